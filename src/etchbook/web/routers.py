"""Every router of the bench, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.api import geometry, verbs
from etchbook.web.bookrouters import ROUTERS as OF_THE_BOOK
from etchbook.web.pages import home, opening, pictures, pieces, readings, section, trials
from etchbook.web.trialrouters import ROUTERS as OF_TRIALS

ROUTERS: tuple[APIRouter, ...] = (
    home.router,
    trials.router,
    opening.router,
    pieces.router,
    pictures.router,
    readings.router,
    section.router,
    geometry.router,
    verbs.router,
    *OF_TRIALS,
    *OF_THE_BOOK,
)
