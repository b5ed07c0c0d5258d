"""Every router of the bench, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.api import beads as api_beads
from etchbook.web.api import geometry, pairing, things
from etchbook.web.api import pictures as api_pictures
from etchbook.web.api import readings as api_readings
from etchbook.web.askrouters import ROUTERS as OF_QUESTIONS
from etchbook.web.bookrouters import ROUTERS as OF_THE_BOOK
from etchbook.web.pages import devices, home, meeting, opening, pictures, pieces, readings, section, trials
from etchbook.web.trialrouters import ROUTERS as OF_TRIALS

ROUTERS: tuple[APIRouter, ...] = (
    home.router,
    devices.router,
    trials.router,
    opening.router,
    pieces.router,
    pictures.router,
    readings.router,
    section.router,
    meeting.router,
    geometry.router,
    things.router,
    api_beads.router,
    api_pictures.router,
    api_readings.router,
    pairing.router,
    *OF_QUESTIONS,
    *OF_TRIALS,
    *OF_THE_BOOK,
)
