"""Undo and redo over random histories on three copies that merge whenever they meet."""

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)

from castlenut.store.revisions import GONE, Added, Changed, Edit, Gone, set_by
from castlenut.store.values import Value
from tests.laws.copies import Clock, Copy, Seen, all_merged

DEVICES = ("dev-a", "dev-b", "dev-c")
MOST = 3
"""Few records, so that the devices often set the same field."""
COPIES = st.integers(0, len(DEVICES) - 1)
FIELDS: st.SearchStrategy[dict[str, Value]] = st.fixed_dictionaries(
    {},
    optional={
        "figure": st.integers(0, 3),
        "unit": st.sampled_from(["mi", "km"]),
        "note": st.none() | st.sampled_from(["x", "y"]),
    },
)


class ThreeCopies(RuleBasedStateMachine):
    """Three machines, one car: entries, corrections, strikes, merges, undo and redo."""

    def __init__(self) -> None:
        super().__init__()
        clock = Clock()
        self.copies = [Copy(device, clock) for device in DEVICES]
        self.count = 0

    @initialize()
    def take_the_car_in(self) -> None:
        vehicle = Added(
            table="vehicle",
            id="01a20000-0000-7000-8000-0000000000f1",
            values={"slug": "tollgate", "description": "x", "unit": "mi", "digits": 5},
        )
        maker = Copy("dev-maker", self.copies[0].clock)
        maker.save([vehicle, self._new_reading()])
        for each in self.copies:
            each.merge(maker)

    @rule(which=COPIES, data=st.data())
    def enter_and_correct(self, which: int, data: st.DataObject) -> None:
        """One change over several records, as a job is; its undo leaves all as it was."""
        copy = self.copies[which]
        edits = self._edits(copy, data)
        before, revisions = copy.seen(), copy.revisions()
        copy.save(edits)
        after = copy.seen()
        if copy.revisions() == revisions:
            return

        assert copy.undo()
        assert copy.seen() == before
        assert copy.redo()
        assert copy.seen() == after

    def _edits(self, copy: Copy, data: st.DataObject) -> list[Edit]:
        edits: list[Edit] = []
        known = [each for each in copy.file.records(history=True) if each.table == "reading"]
        for record in known:
            act = data.draw(st.sampled_from(["none", "correct", "strike", "restore"]))
            if act == "correct" and not record.gone:
                values: dict[str, Value] = {**data.draw(FIELDS)}
                for field, ranked in record.differences.items():
                    # What differs is settled, mostly by what was used already.
                    if field != GONE:
                        values.setdefault(field, ranked[0].value)
                edits.append(Changed(table="reading", id=record.id, values=values))
            elif act == "strike" and not record.gone:
                edits.append(Gone(table="reading", id=record.id, gone=True, values={"note": "s"}))
            elif act == "restore" and record.gone:
                edits.append(Gone(table="reading", id=record.id, gone=False))
        if self.count < MOST and data.draw(st.booleans()):
            edits.append(self._new_reading())
        return edits

    def _new_reading(self) -> Added:
        self.count += 1
        return Added(
            table="reading",
            id=f"01a20000-0000-7000-8000-00000001{self.count:04x}",
            values={"figure": 9, "on": "2026-11-25", "unit": "mi"},
        )

    @rule(which=COPIES, other=COPIES)
    def merge(self, which: int, other: int) -> None:
        self.copies[which].merge(self.copies[other])

    @rule(which=COPIES, times=st.integers(1, 4))
    def undo_and_redo(self, which: int, times: int) -> None:
        """As many steps back as forth, merges or not: all is as it was."""
        copy = self.copies[which]
        began: list[Seen] = []
        for _ in range(times):
            seen = copy.seen()
            if not copy.undo():
                break
            began.append(seen)
        for seen in reversed(began):
            assert copy.redo()
            assert copy.seen() == seen

    @rule(which=COPIES)
    def undo(self, which: int) -> None:
        """No value that another device set since, and that stands, is touched by an undo."""
        copy = self.copies[which]
        before = {(each.table, each.id): each for each in copy.file.records()}
        copy.undo()
        for key, record in before.items():
            now = copy.file.record(*key)
            assert now is not None
            for field, value in record.values.items():
                setters = {each["by"] for each in record.revisions if field in set_by(each)}
                if field in record.differences or copy.device in setters:
                    continue
                assert now.values.get(field) == value or now.gone

    @rule(which=COPIES)
    def redo(self, which: int) -> None:
        self.copies[which].redo()

    @invariant()
    def all_meet_in_the_same_bytes(self) -> None:
        """In whatever order the copies meet, and no revision is lost on the way."""
        one, two, three = self.copies
        whole = all_merged([one, two, three])
        assert whole == all_merged([three, one, two])
        assert whole == all_merged([two, three, one, two])


TestThreeCopies = ThreeCopies.TestCase
TestThreeCopies.settings = settings(max_examples=10, stateful_step_count=15)


@pytest.mark.long
def test_more_and_longer_histories_hold_as_well() -> None:
    longer = settings(max_examples=100, stateful_step_count=30)
    run_state_machine_as_test(ThreeCopies, settings=longer)
