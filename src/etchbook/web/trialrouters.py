"""The routers of trials and of arithmetic, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.pages import gas, heat, reckon, weld

ROUTERS: tuple[APIRouter, ...] = (
    gas.router,
    heat.router,
    weld.router,
    reckon.router,
)
