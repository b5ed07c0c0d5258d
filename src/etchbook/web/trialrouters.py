"""The routers of trials and of arithmetic, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.pages import compare, gas, heat, next_check, reckon, weld

ROUTERS: tuple[APIRouter, ...] = (
    compare.router,
    next_check.router,
    gas.router,
    heat.router,
    weld.router,
    reckon.router,
)
