"""A client that asks as a browser does: one line kept open, a question sent in one piece."""

import asyncio
import json
import re
from typing import Any
from urllib.parse import urlsplit


class Client:
    """One browser of the bench, with its cookie and its form token."""

    def __init__(self, address: str) -> None:
        self.host = urlsplit(address).netloc
        self.cookie = self.token = ""
        self._line: tuple[asyncio.StreamReader, asyncio.StreamWriter] | None = None

    async def open(self) -> None:
        """Take the cookie and the token from the first page."""
        _, text = await self.get("/")
        found = re.search(rb'name="token" content="(\w+)"', text)
        self.token = found[1].decode() if found else ""

    async def get(self, path: str) -> tuple[int, bytes]:
        """A page: its status and its bytes."""
        return await self._ask("GET", path, b"", "")

    async def post(self, path: str, told: Any) -> tuple[int, bytes]:
        """Something as JSON."""
        return await self._ask("POST", path, json.dumps(told).encode(), "content-type: application/json\r\n")

    async def close(self) -> None:
        """Hang up."""
        if self._line:
            self._line[1].close()
            self._line = None

    async def _ask(self, verb: str, path: str, body: bytes, more: str) -> tuple[int, bytes]:
        try:
            return await self._asked(verb, path, body, more)
        except (asyncio.IncompleteReadError, ConnectionError) as error:
            if getattr(error, "partial", b""):
                raise
            await self.close()  # the line was idle for long and was hung up: a browser dials again, too
            return await self._asked(verb, path, body, more)

    async def _asked(self, verb: str, path: str, body: bytes, more: str) -> tuple[int, bytes]:
        if self._line is None:
            host, _, port = self.host.partition(":")
            self._line = await asyncio.open_connection(host, int(port))
        reader, writer = self._line
        head = f"{verb} {path} HTTP/1.1\r\nhost: {self.host}\r\ncookie: {self.cookie}\r\nx-token: {self.token}\r\n"
        writer.write(f"{head}{more}content-length: {len(body)}\r\n\r\n".encode() + body)
        told = (await reader.readuntil(b"\r\n\r\n")).decode("latin-1")
        for name, value in re.findall(r"(?im)^set-cookie: (\w+)=([^;\r]+)", told):
            self.cookie = f"{name}={value}"
        length = re.search(r"(?im)^content-length: (\d+)", told)
        return int(told.split(" ", 2)[1]), await self._body(reader, int(length[1]) if length else None)

    async def _body(self, reader: asyncio.StreamReader, length: int | None) -> bytes:
        if length is not None:
            return await reader.readexactly(length)
        parts = []
        while size := int((await reader.readline()).strip(), 16):
            parts.append(await reader.readexactly(size))
            await reader.readline()
        await reader.readline()
        return b"".join(parts)
