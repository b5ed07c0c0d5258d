"""Floor 2: the joint that was meant: members, gap, groove."""

from etchbook.joint.records import Joint

__all__ = ["Joint"]
