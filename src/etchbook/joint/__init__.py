"""Floor 2: the joint that was meant: members, gap, groove."""

from etchbook.joint.records import USUAL_U, Bevelled, Groove, Joint

__all__ = ["USUAL_U", "Bevelled", "Groove", "Joint"]
