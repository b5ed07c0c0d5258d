"""Two pictures of the same face laid on each other, or refused in words."""

from etchbook.picture.register.door import register, register_by_hand
from etchbook.picture.register.motion import moved
from etchbook.picture.register.records import NotRegistered, Registration, Trust

__all__ = ["NotRegistered", "Registration", "Trust", "moved", "register", "register_by_hand"]
