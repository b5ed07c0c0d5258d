"""What is in the cylinder, what leaves it, and what the gas can and cannot do."""

from etchbook.gas.boundary import boundary, dew_pressure
from etchbook.gas.contents import contents, gauge_at, hours_left
from etchbook.gas.density import compressibility, mass_density
from etchbook.gas.flow import reynolds, tube_factor
from etchbook.gas.mixing import layered_top, mixing_time
from etchbook.gas.parting import draw_off, gravity_difference, parting
from etchbook.gas.records import Drawn, Filling, GasError, Parting
from etchbook.gas.sound import compared, sound_speed

__all__ = [
    "Drawn",
    "Filling",
    "GasError",
    "Parting",
    "boundary",
    "compared",
    "compressibility",
    "contents",
    "dew_pressure",
    "draw_off",
    "gauge_at",
    "gravity_difference",
    "hours_left",
    "layered_top",
    "mass_density",
    "mixing_time",
    "parting",
    "reynolds",
    "sound_speed",
    "tube_factor",
]
