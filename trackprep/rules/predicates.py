"""A subject and a predicate to a test: only what the subject's type allows."""

from trackprep.rules import conditions as c
from trackprep.rules import model, typed
from trackprep.rules.expressions import Expressions, calendar_duration
from trackprep.rules.facts import well_spelled
from trackprep.rules.reporting import nearest
from trackprep.syntax import tree
from trackprep.syntax.words import is_bare
from trackprep.units import NUMBER, show

_TURNED: dict[str, tree.Comparison] = {"after": "at least", "before": "at most"}
_FORMS = {
    "Chosen": "`is WORD`, `is not WORD`, `is one of …` or `is none of …`",
    "Several": "`includes any of …`, `includes all of …` or `includes none of …`",
    "Flag": "`is yes`, `is no`, or the path alone",
    "Day": "`is on or after DATE`, `is on or before DATE`, `is between …`, or `age of …`",
    "Age": "`is at least`, `at most`, `more than`, `less than` or `between`, with a duration",
    "Number": "`is at least`, `at most`, `more than`, `less than`, `between` or `is`, with a value",
    "Text": "no test: its words are only shown",
}


class Predicates:
    """Makes tests in the scope of some expressions."""

    def __init__(self, expressions: Expressions) -> None:
        self.expressions = expressions
        self.scope = expressions.scope
        self.report = expressions.report

    def test(
        self, subject: typed.Typed, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        """The test, or None after a problem."""
        match subject:
            case typed.Chosen():
                return self.on_choice(subject, predicate)
            case typed.Several():
                return self.on_several(subject, predicate)
            case typed.Flag():
                return self.on_flag(subject, written, predicate)
            case typed.Day():
                return self.on_day(subject, written, predicate)
            case typed.Age():
                return self.on_age(subject, written, predicate)
            case typed.Number():
                return self.on_number(subject, written, predicate)
            case typed.Text() | typed.Word() | typed.YesOrNo():
                return self.wrong_form(subject, written, predicate)

    def wrong_form(
        self, subject: typed.Typed, written: tree.Expression, predicate: tree.Predicate,
        suggestion: str | None = None,
    ) -> c.Condition | None:  # fmt: skip
        """Reports a predicate that the subject's type does not allow."""
        name = _spoken(written)
        form = _FORMS.get(type(subject).__name__, "a fact in front of the test")
        self.report(
            "wrong-test", f"`{name}` is {typed.in_words(subject)}, which this test does not ask",
            predicate.place, expected=form, suggestion=suggestion,
        )  # fmt: skip
        return None

    # ---- choices ----

    def on_choice(self, subject: typed.Chosen, predicate: tree.Predicate) -> c.Condition | None:
        path = subject.fact.path
        match predicate:
            case tree.Is(value, negated):
                return self.is_choice(subject, value, negated)
            case tree.IsOneOf(words, negated):
                found = self.words(subject.type, words, path)
                if found is None:
                    return None
                shown, name = found
                return c.ChoiceTest(path, frozenset(shown), negated, shown, name)
            case tree.Compare(comparison, bound):
                return self.on_grade(subject, comparison, bound, predicate)
            case tree.Between(low, high):
                least = self.on_grade(subject, "at least", low, predicate)
                most = self.on_grade(subject, "at most", high, predicate)
                return self.between(least, most, predicate)
            case _:
                written = tree.Reference(path)
                if isinstance(predicate, tree.Includes):
                    return self.wrong_form(subject, written, predicate, "write `is one of …`")
                return self.wrong_form(subject, written, predicate)

    def is_choice(
        self, subject: typed.Chosen, value: tree.Expression, negated: bool
    ) -> c.Condition | None:
        path = subject.fact.path
        if isinstance(value, tree.Word):
            found = self.word(subject.type, value, path)
        elif isinstance(value, tree.Flag):
            return self.wrong_form(
                subject, tree.Reference(path), tree.Is(value, negated, place=value.place),
                f"write one of its choices: {_listed(subject.type)}",
            )  # fmt: skip
        else:
            self.report(
                "not-a-choice", f"`{value.place.text}` is no choice of `{path}`", value.place,
                expected=f"one of its choices: {_listed(subject.type)}",
            )  # fmt: skip
            return None
        if found is None:
            return None
        return c.ChoiceTest(path, frozenset({found.word}), negated, (found.word,), found.limit)

    def word(self, type_: model.Choosing, word: tree.Word, path: str) -> typed.Word | None:
        """A choice of the type, or a limit that is one; None after a problem."""
        limit = None if word.quoted else self.scope.limit(word.text.lower())
        if word.text in type_.words:
            if limit is not None:
                self.ambiguous(word, "limit", path)
                return None
            return typed.Word(word.text)
        if limit is not None:
            made = self.expressions.limit(word.text.lower(), limit)
            if isinstance(made, typed.Word) and made.word in type_.words:
                return made
            if made is not None:
                self.report(
                    "not-a-choice", f"the limit `{word.text}` is no choice of `{path}`", word.place,
                    expected=f"one of its choices: {_listed(type_)}",
                )  # fmt: skip
            return None
        self.unknown_choice(type_, word, path)
        return None

    def ambiguous(self, word: tree.Word, what: str, path: str) -> None:
        self.report(
            "ambiguous-word", f"`{word.text}` is a choice of `{path}` and a {what} too", word.place,
            suggestion=f'for the choice write `"{word.text}"`, or rename the {what}',
        )  # fmt: skip

    def unknown_choice(self, type_: model.Choosing, word: tree.Word, path: str) -> None:
        lower = word.text.lower()
        meant = next(
            (ch.word for ch in type_.choices if lower in (a.lower() for a in (*ch.also, ch.label))),
            None,
        )
        by_case = next((known for known in type_.words if known.lower() == lower), None)
        found = meant or by_case or nearest(word.text, type_.words)
        if found is None and self.scope.words(lower) is not None and not word.quoted:
            self.report(
                "list-as-value", f"`{word.text}` is a list", word.place,
                suggestion=f"write `is one of {lower}`, or `is none of {lower}`",
            )  # fmt: skip
            return
        if found is None and not word.quoted and not well_spelled(word, self.scope.reporter):
            return
        self.report(
            "unknown-choice", f"`{word.text}` is no choice of `{path}`", word.place,
            expected=f"one of its choices: {_listed(type_)}",
            suggestion=f"write `{_quoted(found)}`" if found else None,
        )  # fmt: skip

    def words(
        self, type_: model.Choosing, words: tuple[tree.Word, ...], path: str
    ) -> tuple[tuple[str, ...], str | None] | None:
        """The choices that are listed, lists and limits resolved, and the name of a lone one."""
        shown: list[str] = []
        names: list[str | None] = []
        broken = False
        for word in words:
            listed = None if word.quoted else self.scope.words(word.text.lower())
            if listed is None:
                found = self.word(type_, word, path)
                broken = broken or found is None
                if found is not None:
                    shown.append(found.word)
                    names.append(found.limit)
            elif word.text in type_.words:
                self.ambiguous(word, "list", path)
                broken = True
            else:
                members = self.members(word, type_, path)
                broken = broken or members is None
                shown.extend(members or ())
                names.append(word.text.lower())
        if broken:
            return None
        return tuple(dict.fromkeys(shown)), names[0] if len(names) == 1 else None

    def members(
        self, word: tree.Word, type_: model.Choosing, path: str
    ) -> tuple[str, ...] | None:
        """The members of a list, all of them choices of the type."""
        listed = self.scope.words(word.text.lower())
        assert listed is not None
        members = [member.text for member in listed.statement.words or ()]
        wrong = [m for m in listed.statement.words or () if m.text not in type_.words]
        for member in wrong:
            near = nearest(member.text, type_.words)
            self.report(
                "unknown-choice",
                f"`{member.text}` is no choice of `{path}`, which is compared with this list",
                member.place, expected=f"choices of `{path}`: {_listed(type_)}",
                suggestion=f"write `{_quoted(near)}`" if near else None,
            )  # fmt: skip
        return None if wrong else tuple(members)

    def on_grade(
        self, subject: typed.Chosen, comparison: tree.Comparison, bound: tree.Expression,
        predicate: tree.Predicate,
    ) -> c.Condition | None:  # fmt: skip
        path, type_ = subject.fact.path, subject.type
        if type_.how != "graded":
            later = "the ones that count, such as `is one of …`"
            self.report(
                "no-order", f"the choices of `{path}` have no order", predicate.place,
                expected=f"`is one of` {_listed(type_)}", suggestion=f"list {later}",
            )  # fmt: skip
            return None
        if isinstance(bound, tree.Reference):
            other = self.expressions.value(bound)
            if isinstance(other, typed.Chosen) and other.type.words == type_.words:
                return c.GradeTest(path, comparison, other=other.fact.path, grades=type_.words)
            if other is None:
                return None
        elif isinstance(bound, tree.Word):
            found = self.word(type_, bound, path)
            if found is None:
                return None
            return c.GradeTest(
                path, comparison, found.word, grades=type_.words, limit=found.limit
            )
        self.report(
            "not-a-choice", f"`{bound.place.text}` is no grade of `{path}`", bound.place,
            expected=f"one of its grades: {_listed(type_)}",
        )  # fmt: skip
        return None

    def on_several(self, subject: typed.Several, predicate: tree.Predicate) -> c.Condition | None:
        path = subject.fact.path
        if isinstance(predicate, tree.Includes):
            found = self.words(subject.type, predicate.words, path)
            if found is None:
                return None
            shown, name = found
            return c.SetTest(path, predicate.how, frozenset(shown), shown, name)
        suggestion = None
        if isinstance(predicate, tree.Is | tree.IsOneOf):
            how = "none" if predicate.negated else "any"
            suggestion = f"write `includes {how} of …`"
        elif isinstance(predicate, tree.Compare):
            suggestion = "list the marks that count: `includes any of …`"
        return self.wrong_form(subject, tree.Reference(path), predicate, suggestion)

    def on_flag(
        self, subject: typed.Flag, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        if isinstance(predicate, tree.Is):
            value = predicate.value
            if isinstance(value, tree.Word) and not value.quoted and self.scope.limit(value.text):
                made = self.expressions.value(value)
                value = tree.Flag(made.value) if isinstance(made, typed.YesOrNo) else value
            if isinstance(value, tree.Flag):
                return flag_is(subject.condition, value.value != predicate.negated)
        return self.wrong_form(subject, written, predicate, "write `is yes` or `is no`")

    # ---- days and ages ----

    def on_day(
        self, subject: typed.Day, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        match predicate:
            case tree.OnOr(side, bound):
                return self.day_test(subject, _TURNED[side], bound)
            case tree.Is(value, negated):
                return self.day_test(subject, "not equal" if negated else "equal", value)
            case tree.Between(low, high):
                least = self.day_test(subject, "at least", low)
                most = self.day_test(subject, "at most", high)
                return self.between(least, most, predicate)
            case tree.Compare(comparison, bound):
                return self.compared_day(written, comparison, bound, predicate)
            case _:
                return self.wrong_form(subject, written, predicate)

    def compared_day(
        self, written: tree.Expression, comparison: tree.Comparison, bound: tree.Expression,
        predicate: tree.Predicate,
    ) -> c.Condition | None:  # fmt: skip
        """`is at least` and the like of a date: the right form depends on what is meant."""
        name = _spoken(written)
        made = self.expressions.value(bound)
        if made is None:
            return None
        if isinstance(made, typed.Number) and calendar_duration(made) is not None:
            suggestion = f"for its age, write `age of {name} is {comparison} {bound.place.text}`"
        else:
            side = "after" if comparison in ("at least", "more than") else "before"
            suggestion = f"write `is on or {side} {bound.place.text}`"
        self.report(
            "wrong-form", f"`is {comparison}` is not asked of a date", predicate.place,
            expected=_FORMS["Day"], suggestion=suggestion,
        )  # fmt: skip
        return None

    def day_test(
        self, subject: typed.Day, comparison: c.Comparison, bound: tree.Expression
    ) -> c.DayTest | None:
        made = self.expressions.value(bound)
        if made is None:
            return None
        if not isinstance(made, typed.Day):
            self.report(
                "not-a-date", f"`{bound.place.text}` is {typed.in_words(made)}", bound.place,
                expected="a date, such as `2026-06-14`, a date fact, or `event.date`",
            )  # fmt: skip
            return None
        return c.DayTest(subject.term, comparison, made.term)

    def on_age(
        self, subject: typed.Age, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        match predicate:
            case tree.Compare(comparison, bound):
                return self.age_test(subject, comparison, bound, predicate)
            case tree.Between(low, high):
                least = self.age_test(subject, "at least", low, predicate)
                most = self.age_test(subject, "at most", high, predicate)
                if least is not None and most is not None:
                    if (least.months is None) != (most.months is None):
                        self.report(
                            "mixed-durations",
                            "days and weeks do not mix with months and years here",
                            predicate.place, suggestion="write both ends in the same kind of unit",
                        )  # fmt: skip
                        return None
                return self.between(least, most, predicate)
            case tree.Is():
                return self.wrong_form(
                    subject, written, predicate, "write `is at most …` or `is at least …`"
                )
            case _:
                return self.wrong_form(subject, written, predicate)

    def age_test(
        self, subject: typed.Age, comparison: tree.Comparison, bound: tree.Expression,
        predicate: tree.Predicate,
    ) -> c.AgeTest | None:  # fmt: skip
        made = self.expressions.number(bound)
        if made is None:
            return None
        if not made.constant or made.unit.calendar is None:
            suggestion = None
            if made.dimension == NUMBER and made.constant:
                suggestion = f"write `{bound.place.text} years`"
            self.report(
                "not-a-duration", f"an age is compared with a duration; `{bound.place.text}` is"
                f" {typed.in_words(made)}", bound.place,
                expected="a number of days, weeks, months or years", suggestion=suggestion,
            )  # fmt: skip
            return None
        duration = calendar_duration(made)
        if duration is None:
            self.report(
                "not-whole", f"`{bound.place.text}` is no whole number of days or months",
                bound.place, suggestion="write it in months or in days",
            )  # fmt: skip
            return None
        if self.persons_age(subject, comparison, bound) or self.wrong_grain(subject, made, bound):
            return None
        months, days = duration
        by_months = made.unit.calendar == "months"
        limit = made.term.limit if isinstance(made.term, c.Constant) else None
        return c.AgeTest(
            subject.of,
            subject.on,
            comparison,
            months if by_months else None,
            None if by_months else days,
            subject.grain,
            shown=show(made.term.value, made.unit) if isinstance(made.term, c.Constant) else "",
            limit=limit,
            derived=subject.derived,
        )

    def persons_age(
        self, subject: typed.Age, comparison: tree.Comparison, bound: tree.Expression
    ) -> bool:
        """`age of rider.born is at most 10 years` excludes who is ten already: hardly meant."""
        if subject.path.rpartition(".")[2] != "born" or comparison not in ("at most", "more than"):
            return False
        number = bound.number if isinstance(bound, tree.Quantity) else "N"
        self.report(
            "age-of-person",
            f"`age of {subject.path} is {comparison}` turns on the birthday itself",
            bound.place, expected="a person's age in completed years",
            suggestion=f"write `completed years of {subject.path} is {comparison} {number}`",
        )  # fmt: skip
        return True

    def wrong_grain(
        self, subject: typed.Age, made: typed.Number, bound: tree.Expression
    ) -> bool:
        """`to the month` takes months or years, `to the year` years."""
        assert isinstance(made.term, c.Constant)
        months = made.unit.calendar == "months"
        whole_years = months and made.term.value % 12 == 0
        if subject.grain == "day" or (months and subject.grain == "month") or whole_years:
            return False
        wanted = "months or years" if subject.grain == "month" else "years"
        self.report(
            "wrong-grain", f"an age `to the {subject.grain}` is counted in {wanted}", bound.place,
            suggestion=f"write a number of {wanted}",
        )  # fmt: skip
        return True

    # ---- numbers ----

    def on_number(
        self, subject: typed.Number, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        match predicate:
            case tree.Compare(comparison, bound):
                return self.number_test(subject, written, comparison, bound)
            case tree.Is(value, negated):
                equality: c.Comparison = "not equal" if negated else "equal"
                return self.number_test(subject, written, equality, value)
            case tree.Between(low, high):
                least = self.number_test(subject, written, "at least", low)
                most = self.number_test(subject, written, "at most", high)
                return self.between(least, most, predicate)
            case tree.OnOr(side, bound):
                right = _TURNED[side]
                return self.wrong_form(
                    subject, written, predicate, f"write `is {right} {bound.place.text}`"
                )
            case _:
                return self.wrong_form(subject, written, predicate)

    def number_test(
        self, subject: typed.Number, written: tree.Expression, comparison: c.Comparison,
        bound: tree.Expression,
    ) -> c.NumberTest | None:  # fmt: skip
        made = self.expressions.number(bound)
        if made is None or not self.comparable(subject, written, made, bound):
            return None
        self.in_range(subject, made, bound)
        return c.NumberTest(subject.term, comparison, made.term)

    def comparable(
        self, subject: typed.Number, written: tree.Expression, made: typed.Number,
        bound: tree.Expression,
    ) -> bool:  # fmt: skip
        name = _spoken(written)
        if made.dimension != subject.dimension:
            self.report(
                "unit-missing" if made.dimension == NUMBER and made.constant else "wrong-dimension",
                f"`{name}` is {typed.in_words(subject)}; `{bound.place.text}` is"
                f" {typed.in_words(made)}",
                bound.place,
                expected=subject.dimension.words,
                suggestion=_other_unit(subject, made, bound),
            )
            return False
        natures = {subject.nature, made.nature}
        if natures == {"point", "difference"}:
            self.report(
                "point-and-difference",
                f"`{name}` is {_natured(subject)}; `{bound.place.text}` is {_natured(made)}",
                bound.place,
                suggestion="write a difference in `K`, such as `5 K`"
                if subject.dimension.words == "a temperature" else None,
            )  # fmt: skip
            return False
        return True

    def in_range(
        self, subject: typed.Number, made: typed.Number, bound: tree.Expression
    ) -> None:
        """Reports a constant that no plausible value of the fact reaches."""
        fact = subject.fact
        if fact is None or not isinstance(made.term, c.Constant):
            return
        assert isinstance(fact.type, model.Measured)
        low, high, value = fact.type.low, fact.type.high, made.term.value
        if (low is None or value >= low) and (high is None or value <= high):
            return
        ends = range_in_words(fact.type)
        what = f"the limit `{made.term.limit}`" if made.term.limit else f"`{bound.place.text}`"
        shown = f", {show(value, made.unit)}," if made.term.limit else ""
        self.report(
            "outside-range", f"{what}{shown} lies outside the range of `{fact.path}`", bound.place,
            expected=f"a value {ends}", suggestion="mend the value, or the range of the fact",
        )  # fmt: skip

    def between(
        self, least: c.Condition | None, most: c.Condition | None, predicate: tree.Predicate
    ) -> c.Condition | None:
        """Both tests, unless the ends stand the wrong way round."""
        if least is None or most is None:
            return None
        if _reversed(least, most):
            self.report(
                "reversed-range", "the first end lies above the second: nothing is between them",
                predicate.place, suggestion="put the smaller end first",
            )  # fmt: skip
            return None
        return c.All((least, most), "between")


def flag_is(condition: c.Condition, value: bool) -> c.Condition:
    """That a flag is yes, or no."""
    if isinstance(condition, c.FlagTest):
        return c.FlagTest(condition.path, value)
    return condition if value else c.Not(condition)


def range_in_words(type_: model.Measured) -> str:
    """`from 0 mm to 12 mm`, in the fact's unit."""
    ends = []
    if type_.low is not None:
        ends.append(f"from {show(type_.low, type_.unit)}")
    if type_.high is not None:
        ends.append(f"to {show(type_.high, type_.unit)}")
    return " ".join(ends) or "of any size"


def _reversed(least: c.Condition, most: c.Condition) -> bool:
    """Whether two ends are known and the first lies above the second."""
    match least, most:
        case (
            c.NumberTest(right=c.Constant(value=low)),
            c.NumberTest(right=c.Constant(value=high)),
        ):
            return low > high
        case c.DayTest(right=c.FixedDay(first)), c.DayTest(right=c.FixedDay(last)):
            return first > last
        case c.AgeTest(months=int() as low_months), c.AgeTest(months=int() as high_months):
            return low_months > high_months
        case c.AgeTest(days=int() as low_days), c.AgeTest(days=int() as high_days):
            return low_days > high_days
        case c.GradeTest(word=str() as one, grades=grades), c.GradeTest(word=str() as other):
            return grades.index(one) > grades.index(other)
        case _:
            return False


def _natured(number: typed.Number) -> str:
    scale = number.dimension.words
    return f"a point on the scale of {scale}" if number.nature == "point" else f"a difference, {scale}"


def _spoken(written: tree.Expression) -> str:
    if isinstance(written, tree.Reference):
        return written.path
    return written.text if isinstance(written, tree.Word) else written.place.text


def _listed(type_: model.Choosing) -> str:
    words = [f"`{_quoted(word)}`" for word in type_.words[:8]]
    return ", ".join(words) + (", …" if len(type_.words) > 8 else "")


def _quoted(word: str) -> str:
    return word if is_bare(word) else f'"{word}"'


def _other_unit(subject: typed.Number, made: typed.Number, bound: tree.Expression) -> str | None:
    """What to write in place of a value of another dimension."""
    if made.dimension == NUMBER and made.constant and subject.unit.name:
        return f"write its unit, such as `{bound.place.text} {subject.unit.name}`"
    if subject.dimension.words == "a pressure" and made.dimension.words == "a mass":
        number = bound.number if isinstance(bound, tree.Quantity) else "2.2"
        return f"a gauge in kg reads kgf to the square centimetre: write `{number} kgf/cm^2`"
    if subject.unit.name:
        return f"write a value in {subject.unit.name}"
    return None

