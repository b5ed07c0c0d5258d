"""Corrected readings as labelled examples, to be taken along: they teach the reader the shop's own sections."""

from fastapi import APIRouter, Request
from fastapi.responses import Response

from etchbook.trials import normal_code
from etchbook.web.bench import get_bench
from etchbook.wiring.apart import SLOW
from etchbook.wiring.examples import zipped_examples

router = APIRouter(include_in_schema=False)


@router.get("/examples/{code}.zip")
def examples(request: Request, code: str) -> Response:
    """The corrected readings of a thing, each with its photograph (without location), regions and marks."""
    named = normal_code(code)
    data = SLOW.ask(zipped_examples, str(get_bench(request).folder), named)
    head = {"content-disposition": f'attachment; filename="{named}-example.zip"', "cache-control": "no-store"}
    return Response(data, media_type="application/zip", headers=head)
