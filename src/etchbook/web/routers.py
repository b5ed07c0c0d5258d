"""Every router of the bench, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.api import geometry, verbs
from etchbook.web.pages import devices, home, opening, pictures, pieces, readings, section, trials

ROUTERS: tuple[APIRouter, ...] = (
    home.router,
    devices.router,
    trials.router,
    opening.router,
    pieces.router,
    pictures.router,
    readings.router,
    section.router,
    geometry.router,
    verbs.router,
)
