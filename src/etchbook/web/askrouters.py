"""The routers of JSON verbs that answer questions, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.api import comparing, gas, limits, nextcheck, planning, sizing, welding

ROUTERS: tuple[APIRouter, ...] = (
    limits.router,
    comparing.router,
    nextcheck.router,
    sizing.router,
    planning.router,
    gas.router,
    welding.router,
)
