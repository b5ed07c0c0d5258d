"""The routers of what lies in the book beside its trials, each on a line of its own."""

from fastapi import APIRouter

from etchbook.web.pages import certificates, cuts, demo, examples, indications, limits, limitsbin, places, register

ROUTERS: tuple[APIRouter, ...] = (
    places.router,
    limits.router,
    limitsbin.router,
    certificates.router,
    register.router,
    indications.router,
    cuts.router,
    demo.router,
    examples.router,
)
