"""The tires of a car on the screen: from above, which may move, the plan, other ways to shoe it."""
