"""Every router of the bench, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.pages import home

ROUTERS: tuple[APIRouter, ...] = (home.router,)
