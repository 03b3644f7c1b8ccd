"""Tests of choices: of one or several, of grades, against words and lists."""

import re

from trackprep.rules import conditions as c
from trackprep.rules import model, typed
from trackprep.rules.facts import well_spelled
from trackprep.rules.predicates.forms import Forms
from trackprep.rules.reporting import nearest
from trackprep.syntax import tree
from trackprep.syntax.words import is_bare

_OR_LATER = re.compile(r"(or|and) (later|newer|better|higher|above|up)$|\+$", re.IGNORECASE)


class Choices:
    """Makes tests of the choices that are declared."""

    def __init__(self, forms: Forms) -> None:
        self.forms = forms
        self.expressions, self.scope, self.report = forms.expressions, forms.scope, forms.report

    def of_one(self, subject: typed.Chosen, predicate: tree.Predicate) -> c.Condition | None:
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
                return self.forms.between(least, most, predicate)
            case _:
                written = tree.Reference(path)
                if isinstance(predicate, tree.Includes):
                    return self.forms.wrong(subject, written, predicate, "write `is one of …`")
                return self.forms.wrong(subject, written, predicate)

    def is_choice(
        self, subject: typed.Chosen, value: tree.Expression, negated: bool
    ) -> c.Condition | None:
        path = subject.fact.path
        if isinstance(value, tree.Word):
            found = self.word(subject.type, value, path)
        elif isinstance(value, tree.Flag):
            return self.forms.wrong(
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
        suggestion = f"write `{_quoted(found)}`" if found else None
        if later := _OR_LATER.search(word.text):
            suggestion = f"`{later.group()}` is not read: name each choice that counts, with commas"
        self.report(
            "unknown-choice", f"`{word.text}` is no choice of `{path}`", word.place,
            expected=f"one of its choices: {_listed(type_)}", suggestion=suggestion,
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

    def members(self, word: tree.Word, type_: model.Choosing, path: str) -> tuple[str, ...] | None:
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
    ) -> c.GradeTest | None:  # fmt: skip
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
            return c.GradeTest(path, comparison, found.word, grades=type_.words, limit=found.limit)
        self.report(
            "not-a-choice", f"`{bound.place.text}` is no grade of `{path}`", bound.place,
            expected=f"one of its grades: {_listed(type_)}",
        )  # fmt: skip
        return None

    def of_several(self, subject: typed.Several, predicate: tree.Predicate) -> c.Condition | None:
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
        return self.forms.wrong(subject, tree.Reference(path), predicate, suggestion)


def _listed(type_: model.Choosing) -> str:
    words = [f"`{_quoted(word)}`" for word in type_.words[:8]]
    return ", ".join(words) + (", …" if len(type_.words) > 8 else "")


def _quoted(word: str) -> str:
    return word if is_bare(word) else f'"{word}"'
