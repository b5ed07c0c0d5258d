"""The routers of trials and of arithmetic, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.pages import compare, deciding, dialling, gas, heat, next_check, planning, reckon, sizing, weld

ROUTERS: tuple[APIRouter, ...] = (
    compare.router,
    next_check.router,
    sizing.router,
    dialling.router,
    deciding.router,
    planning.router,  # behind the others, for it takes any name for the code of a trial
    gas.router,
    heat.router,
    weld.router,
    reckon.router,
)
