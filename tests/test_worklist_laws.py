"""What holds of every work list, tried on many rulesets and declarations."""

from itertools import product

from attrs import frozen
from hypothesis import given
from hypothesis import strategies as st
from worklist_made import made

from trackprep.reports.worklist.report import WorklistReport, worklist
from trackprep.rider.worklist import Arrival, total


@frozen
class MadeRule:
    """A rule of one fact with a value of its own, and what its answer is by that value."""

    number: int
    recommended: bool
    value: str | None
    fix: str
    minutes: int | None
    where: str
    after: tuple[int, ...]
    undo: str
    only_if_there: bool
    look: int | None

    @property
    def name(self) -> str:
        return f"r{self.number}"

    @property
    def answer(self) -> str:
        return {None: "unsettled", "good": "met", "absent": "met", "bad": "not-met"}[self.value]

    @property
    def text(self) -> str:
        lines = [
            f'fact yard.f{self.number} "Fact {self.number}" one of good, bad, absent'
            + (f' how "Look." takes {self.look} min' if self.look else ""),
            f'rule {self.name} "Rule {self.number}"',
            f"  {'recommend' if self.recommended else 'require'}"
            f" yard.f{self.number} is one of good, absent",
        ]
        if self.fix:
            after = ", ".join(f"r{number}" for number in self.after)
            takes = f" takes {self.minutes} min" if self.minutes else ""
            lines.append(
                f'  fix "{self.fix}"{takes}{f" after {after}" if after else ""} {self.where}'
            )
        if self.undo:
            when = f"when yard.f{self.number} is not absent" if self.only_if_there else ""
            lines.append(f'  undo "{self.undo}" {when}')
        return "\n".join(lines)


@st.composite
def rules(draw: st.DrawFn, shared: bool = True) -> tuple[MadeRule, ...]:
    """Rules whose work may share its words; work comes only after that of rules before."""
    number = draw(st.integers(1, 7))
    return tuple(
        MadeRule(
            place,
            draw(st.booleans()),
            draw(st.sampled_from([None, "good", "bad", "bad", "absent"])),
            draw(st.sampled_from(["", f"Do {place}.", f"Do {place % 3 if shared else place}."])),
            draw(st.sampled_from([None, 5, 60])),
            draw(st.sampled_from(["", "at home", "in the paddock"])),
            tuple(sorted(draw(st.sets(st.integers(0, place - 1), max_size=2)))) if place else (),
            draw(st.sampled_from(["", f"Undo {place}."])),
            draw(st.booleans()),
            draw(st.sampled_from([None, 2, 45])),
        )
        for place in range(number)
    )  # fmt: skip


def listed(of: tuple[MadeRule, ...], *, registered: bool | None = True) -> WorklistReport:
    declared: dict[str, object] = {
        f"yard.f{rule.number}": rule.value for rule in of if rule.value is not None
    }
    if registered is not None:
        declared["machine.registered"] = registered
    # The last rule stands first, so that reading order and working order differ.
    text = "\n".join(rule.text for rule in reversed(of))
    return made(declared, f'ruleset r "R"\n{text}')


@given(rules())
def test_every_rule_that_is_not_met_has_one_job_and_no_other_has_any(
    of: tuple[MadeRule, ...],
) -> None:
    found = listed(of).worklist
    served = [one.rule for job in found.jobs for one in job.serves]
    assert sorted(served) == sorted(rule.name for rule in of if rule.answer == "not-met")
    for job in found.jobs:
        wanted = {
            of[int(one.rule[1:])].fix or f"Meet the rule “{one.title}”." for one in job.serves
        }
        assert wanted == {text for text, _ in job.texts}


@given(rules())
def test_every_unsettled_rule_is_found_out_about_and_no_fact_twice(
    of: tuple[MadeRule, ...],
) -> None:
    found = listed(of).worklist
    waiting = sorted(one.rule for point in found.points for one in point.serves)
    assert waiting == sorted(rule.name for rule in of if rule.answer == "unsettled")
    asked = [one.path for point in found.points for one in point.questions]
    assert sorted(asked) == sorted(f"yard.f{rule.number}" for rule in of if rule.value is None)
    times = [of[int(path.removeprefix("yard.f"))].look for path in asked]
    whole = total(tuple(one.takes for one in found.questions))
    assert (whole.minutes, whole.untimed) == (sum(filter(None, times)), times.count(None))
    levels = [point.level for point in found.points]
    assert levels == sorted(levels, reverse=True)  # required before recommended


def first_of(rule: MadeRule, of: tuple[MadeRule, ...]) -> set[int]:
    """By the definition: what its work comes after, through rules that have none to do."""
    firsts = set()
    for number in rule.after if rule.fix else ():
        if of[number].answer == "not-met":
            firsts.add(number)
        else:
            firsts |= first_of(of[number], of)
    return firsts


@given(rules(shared=False))
def test_the_order_is_workable(of: tuple[MadeRule, ...]) -> None:
    """Within a list, and from home to paddock; a recommendation may come later if it is done."""
    found = listed(of).worklist
    jobs = {one.rule: job for job in found.jobs for one in job.serves}
    for rule in of:
        if rule.answer != "not-met":
            continue
        job = jobs[rule.name]
        firsts = {jobs[f"r{number}"].number for number in first_of(rule, of)}
        assert set(job.after) == firsts
        for number in firsts:
            first = found.jobs[number - 1]
            if first.level in ("required", job.level):
                assert first.number < job.number
                assert (first.spot, job.spot) != ("in the paddock", "at home")


@given(rules())
def test_times_add_up(of: tuple[MadeRule, ...]) -> None:
    """By place and level, over all lists: no job is lost between them."""
    found = listed(of).worklist
    lists = [
        found.jobs_at(spot, level)
        for level, spot in product(("required", "recommended"), ("at home", "in the paddock"))
    ]
    assert [job.number for jobs in lists for job in jobs] == [*range(1, len(found.jobs) + 1)]
    for job in found.jobs:
        its = [of[int(one.rule[1:])] for one in job.serves]
        longest = max((rule.minutes or 0 for rule in its if rule.fix), default=0)
        assert job.takes.minutes == longest
        assert job.takes.untimed == (not longest)


@given(rules(), st.sampled_from(["ridden", "carried"]))
def test_every_undo_that_applies_stands_once(of: tuple[MadeRule, ...], arrival: Arrival) -> None:
    road = worklist(*listed(of).reports, arrival=arrival).worklist.road
    leaving, later = (
        [text for step in steps if step.serves for text, _ in step.texts]
        for steps in (road.leaving, road.later)
    )
    wanted = [
        rule for rule in of
        if rule.undo and not (rule.only_if_there and rule.value == "absent")
    ]  # fmt: skip
    waiting = [
        rule for rule in wanted
        if arrival == "carried" or (rule.fix and rule.where == "at home")
    ]  # fmt: skip
    assert sorted(later) == sorted(rule.undo for rule in waiting)
    assert sorted([*leaving, *later]) == sorted(rule.undo for rule in wanted)


@given(rules())
def test_nothing_goes_back_on_a_machine_that_is_not_of_the_road(
    of: tuple[MadeRule, ...],
) -> None:
    road = listed(of, registered=False).worklist.road
    assert (road.leaving, road.later) == ((), ())
