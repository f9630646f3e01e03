"""What tire markings say."""
