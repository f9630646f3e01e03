"""What doing one item does along with it, by its rule."""

from collections.abc import Mapping

from castlenut.domain.ids import RuleId
from castlenut.domain.rules.rule import Rule


def included_rules(rule: Rule, rules: Mapping[RuleId, Rule]) -> frozenset[RuleId]:
    """Give every rule that a rule includes, and that those include."""
    found: set[RuleId] = set()
    ahead = list(rule.includes)
    while ahead:
        each = ahead.pop()
        if each not in found:
            found.add(each)
            ahead.extend(rules[each].includes if each in rules else ())
    return frozenset(found)
