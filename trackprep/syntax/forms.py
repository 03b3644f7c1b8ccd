"""How each statement is written, and the words that people mistake for others."""

FORMS = {
    "ruleset": '`ruleset NAME "Title"`',
    "vocabulary": '`vocabulary NAME "Title"`',
    "edition": '`edition "2026.1"`',
    "organizer": '`organizer "…"`',
    "venue": '`venue "…"`',
    "contact": '`contact "…"`',
    "valid": "`valid from 2026-03-01 to 2026-11-30`",
    "use": '`use "standard"`',
    "supplements": '`supplements "common-practice"`',
    "kind": "`kind NAME TYPE`",
    "fact": '`fact PATH "Label" TYPE`, such as `fact helmet.made "Helmet made" past date`',
    "how": '`how "…"`, then `takes 5 min` if it takes time to find out',
    "derived": '`derived PATH "Label" in UNIT as EXPRESSION`, `… as age of FACT`'
    " or `… means CONDITION`",
    "formula": "`formula NAME(PARAMETER in UNIT, …) in UNIT as EXPRESSION`, such as"
    " `formula ratio(rear, front) as rear / front`",
    "table": '`table NAME "Label" from KIND to UNIT`, then a `row CHOICE is VALUE` for each choice',
    "row": "`row CHOICE is VALUE`, such as `row slick is 3 mm`, or `row CHOICE is none`",
    "limit": '`limit NAME "Label" is VALUE`, or rows: `is VALUE when CONDITION, VALUE otherwise`',
    "list": '`list NAME "Label" is a, b`',
    "here": "`here PATH is VALUE`",
    "section": '`section "Title"`, with `when CONDITION` if it is not for everybody',
    "rule": '`rule NAME "Title"`',
    "withdraw": '`withdraw rule NAME reason "…"`',
    "when": "`when CONDITION`, such as `when engine.cooling is liquid`",
    "unless": "`unless CONDITION`, such as `unless machine.electric`",
    "require": "`require CONDITION`, such as `require helmet.shell is full-face`",
    "recommend": "`recommend CONDITION`, such as `recommend speedometer is covered`",
    "fix": '`fix "…"`, then `takes 25 min`, `parts "…"`, `tools "…"`, `after RULE`',
    "undo": '`undo "…"`, then `takes 5 min`, `parts "…"`, `tools "…"`',
    "source": '`source "document and section"`, `source common practice` or `source house rule`',
    "example": '`example "Title"`, with `from "FILE"` or `on DATE` if it needs them',
    "declare": "`declare PATH is VALUE`",
    "expect": "`expect RULE is met` (or `not met`, `unsettled`, `not asked`), or `expect ready`",
    "accept": '`accept FINDING "reason"`, such as `accept without-fix "The club mends it."`',
    "declaration": '`declaration "Who, and which machine"`',
    "declared": "`declared on 2026-06-10`",
}
"""How each statement is written, shown to whoever got it wrong."""
ENTRY = "`PATH is VALUE`, such as `tyre.front.tread is 3.5 mm`"
"""How a line of a `.rider` file is written."""
TAKES = "`takes` behind the `how` of a fact, or behind `fix` or `undo`"
"""Where it says how long something takes."""

MEANT = {
    "must": "require", "requires": "require", "required": "require", "shall": "require",
    "needs": "require", "need": "require", "mandatory": "require", "ensure": "require",
    "should": "recommend", "recommended": "recommend", "recommends": "recommend",
    "advise": "recommend", "advised": "recommend", "may": "recommend",
    "if": "when", "where": "when", "only": "when", "whenever": "when",
    "except": "unless", "excepting": "unless", "case": "example", "test": "example",
    "title": "ruleset", "rules": "rule", "facts": "fact", "import": "use", "include": "use",
    "fixed": "core", "tighten": "stricter", "relax": "looser", "look": "how", "let": "limit",
    "function": "formula", "lookup": "table", "else": "otherwise",
    "remove": "withdraw", "delete": "withdraw", "because": "reason", "why": "reason",
}  # fmt: skip
"""Words that people write where the language has another."""
