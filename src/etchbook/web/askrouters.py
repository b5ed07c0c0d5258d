"""The routers of JSON verbs that answer questions, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.api import comparing, gas, nextcheck, planning, sizing, welding

ROUTERS: tuple[APIRouter, ...] = (
    comparing.router,
    nextcheck.router,
    sizing.router,
    planning.router,
    gas.router,
    welding.router,
)
