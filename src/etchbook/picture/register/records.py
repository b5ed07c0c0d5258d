"""What registering two pictures gives: the motion with its trust, or why there is none."""

from dataclasses import dataclass

from etchbook.picture.register.motion import Kind, Matrix, Points, inverse, moved


@dataclass(frozen=True, kw_only=True, slots=True)
class Trust:
    """How well two pictures are known to show the same face.

    Parameters
    ----------
    tried : patches with structure in both pictures that were compared
    agreeing : of them, those that lie where the motion says
    spread : root mean square distance of the agreeing patches from their middle, over that of the whole overlap
    residual : root mean square of what is left between them [px of the coarser picture], both axes together
    likeness : correlation of the structure of the overlap after laying one picture on the other, -1 to 1
    stretch : how much more the motion lengthens anything in the overlap than anything else there, 0 for a similarity
    evidence : natural logarithm of how much better "same place" explains the patches than chance does
    """

    tried: int
    agreeing: int
    spread: float
    residual: float
    likeness: float
    stretch: float
    evidence: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Registration:
    """Where the points of the first picture lie in the second.

    Parameters
    ----------
    matrix : (3, 3) px of the first to px of the second
    kind : similarity, affine or perspective: the simplest that the patches ask for
    mirror : whether left and right are exchanged
    size : px of the second per px of the first, in the middle of the overlap
    turn : turn of the first's x axis in the second [°]
    u : standard uncertainty of a place carried over, root mean square over the overlap [px of the coarser picture]
    overlap : share of the smaller picture that the other one shows
    trust : what the trust rests on
    by_hand : whether it rests on points that a person matched, because the pictures alone did not bear it out
    """

    matrix: Matrix
    kind: Kind
    mirror: bool
    size: float
    turn: float
    u: float
    overlap: float
    trust: Trust
    by_hand: bool = False

    def to_second(self, points: Points) -> Points:
        """(n, 2) px of the first picture in px of the second."""
        return moved(self.matrix, points)

    def to_first(self, points: Points) -> Points:
        """(n, 2) px of the second picture in px of the first."""
        return moved(inverse(self.matrix), points)

    @property
    def coarser(self) -> int:
        """1 or 2: the picture with fewer pixels on the same piece of metal."""
        return 1 if self.size >= 1 else 2

    def turned_round(self) -> "Registration":
        """The same, from the second picture to the first."""
        turn = self.turn if self.mirror else -self.turn
        return Registration(
            matrix=inverse(self.matrix), kind=self.kind, mirror=self.mirror, size=1 / self.size, turn=turn, u=self.u,
            overlap=self.overlap, trust=self.trust, by_hand=self.by_hand,
        )  # fmt: skip


@dataclass(frozen=True, kw_only=True, slots=True)
class NotRegistered:
    """The pictures could not be laid on each other with trust: why, and what would help."""

    reason: str
    remedy: str
    trust: Trust | None = None
