"""What a treatment implies: the bench's numbers and plants' facts, their sources, and what the crew changed."""

from core.treatments.protocols import Learned, Number, Protocol, Protocols, protocols
from core.treatments.rules import RuleChange, read_rule

__all__ = ["Learned", "Number", "Protocol", "Protocols", "RuleChange", "protocols", "read_rule"]
