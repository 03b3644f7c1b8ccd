"""What each finding means, why it matters, and one thing to try; the reference says it alike."""

from trackprep.frozen import frozen


@frozen
class Advice:
    """The page of a finding.

    Attributes:
        found: What is the case.
        because: Why that matters.
        attempt: One thing to do about it.
    """

    found: str
    because: str
    attempt: str


ADVICE: dict[str, Advice] = {
    "not-stricter": Advice(
        "A change that claims to be `stricter` lets a machine through that the base turns away.",
        "Riders and other clubs rely on the word, and do not compare the two rules themselves.",
        "make the change at least as strict as the base for the declaration shown, or write"
        " `amend` in place of `stricter`",
    ),
    "not-looser": Advice(
        "A change that claims to be `looser` turns away a machine that the base lets through, or"
        " asks for a fact that the base does not.",
        "A rider who is ready by the base's rules comes without looking, and is sent home.",
        "let the declaration shown through, or write `amend` in place of `looser`",
    ),
    "core-weakened": Advice(
        "A core rule of the base lets a machine through that the base turns away.",
        "The base insists on its core rules at every event, mostly because people got hurt.",
        "make the change at least as strict as the base for the declaration shown, or leave the"
        " core rule, and what it uses, as the base has it",
    ),
    "same-as-base": Advice(
        "A change that claims to be `stricter` or `looser` asks exactly what the base asks.",
        "Either a value was mistyped, or the base has changed and yours came true by itself.",
        "take the change out, or write the value that you mean",
    ),
    "undecided": Advice(
        "It could not be proved either way, for the reason shown.",
        "What is not proved may be so or not: nobody has looked at every machine.",
        "say it with fewer facts in one sum, or install the solver for arithmetic:"
        ' `pip install "trackprep[solver]"`',
    ),
    "never-asked": Advice(
        "What a rule's `when` says never holds, so that nobody is asked.",
        "A rule that nobody is asked protects nobody, and looks as if it did.",
        "look for an `and` that should be an `or`, a choice that cannot go with another, or a"
        " section whose condition says the opposite",
    ),
    "never-met": Advice(
        "Nobody who is asked can meet the rule, whatever they bring.",
        "Everybody is turned away at the gate.",
        "look for two requirements that exclude each other, or a limit outside the fact's range",
    ),
    "never-fails": Advice(
        "Whatever is declared meets the rule.",
        "Riders answer a question that changes nothing, and a danger goes by unseen.",
        "look for an `or` that should be an `and`, or a limit at the end of the fact's range",
    ),
    "cannot-both-be-met": Advice(
        "Two rules are asked of the same machine, and no machine meets both.",
        "Every machine that both are asked of is turned away, and no rider can mend that.",
        "add a `when` to one of the two, so that they are asked of different machines, or agree"
        " on one value",
    ),
    "implied": Advice(
        "A rule turns away nobody whom the other required rules would not turn away too.",
        "Riders read and answer it for nothing, and it hides what is really asked.",
        "take it out (`withdraw` one that is inherited), or say in it what the other rules do not"
        " ask yet",
    ),
    "unused-limit": Advice(
        "No rule, derived fact or other limit uses a limit.",
        "Whoever tunes it believes that something changes, and nothing does.",
        "use it in the rule that it is meant for, or take it out",
    ),
    "unused-list": Advice(
        "No rule or derived fact uses a list.",
        "Whoever tunes it believes that something changes, and nothing does.",
        "use it in the rule that it is meant for, or take it out",
    ),
    "unused-fact": Advice(
        "No rule asks for a fact, or a derived fact, of this file.",
        "Nobody is ever asked about it, so what it was made for is not checked.",
        "write the rule that it is meant for, or take it out",
    ),
    "unused-formula": Advice(
        "Nothing calls a formula of this file.",
        "What it works out decides nothing.",
        "call it in the rule that it is meant for, or take it out",
    ),
    "unused-table": Advice(
        "Nothing looks anything up in a table of this file.",
        "What it says decides nothing.",
        "use it in the rule that it is meant for, or take it out",
    ),
    "states-old-value": Advice(
        "A limit or a rule is changed, and the title of an inherited rule, or other words of its"
        " own, still say the old value.",
        "A rider reads the words, prepares for the wrong value, and is turned away.",
        'say it anew: `amend rule NAME "New title"`, with the other words below it',
    ),
    "example-tells-nothing": Advice(
        "All that an example expects would come with nothing declared, too.",
        "It comes out as expected whatever the rules say of what it declares.",
        "expect what the declared values bring about: `expect RULE is met`, or `is not met`",
    ),
    "accepts-nothing": Advice(
        "An `accept` stands where nothing of that name is found.",
        "What it excused is mended; left there, it would hide the next mistake of that kind.",
        "take the `accept` out, or move it below the statement that it is about",
    ),
    "without-fix": Advice(
        "A rule that can be met by some work does not say which.",
        "A rider who is turned away does not know what to do.",
        'add `fix "…"` with what it takes: `takes 20 min`, `parts "…"`, `tools "…"`',
    ),
    "without-source": Advice(
        "A rule, limit, list, formula or table does not say where it comes from.",
        "Nobody can look up whether it is still right, or who may change it.",
        'add `source "document and section"`, `source common practice` or `source house rule`',
    ),
    "without-example": Advice(
        "No example of the file shows a machine that meets a rule, or none that does not.",
        "A change that turns the rule round would not be noticed.",
        "add an `example` on either side of what is asked, close to it",
    ),
}
"""For every finding its page."""
