"""Files for people to start from: a rule file to change, a declaration to fill in."""

from trackprep.drafting.declarations import blank
from trackprep.drafting.rule_files import draft
from trackprep.drafting.supplements import draft_like

__all__ = ["blank", "draft", "draft_like"]
