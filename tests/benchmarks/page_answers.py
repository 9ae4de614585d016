"""How long a change takes until its new order and picture are on the page, and what server and workers hold in memory.

python -m tests.benchmarks.page_answers [how often, 100 unless given]

The program is started as a person starts it; a client speaks to it over loopback as the page does.
"""

from __future__ import annotations

import asyncio
import json
import os
import subprocess
import sys
import tempfile
import time
import urllib.request
from http.cookiejar import CookieJar
from pathlib import Path

import psutil
from websockets.asyncio.client import connect

from projector.page.form.blank import examples

JOBS = {"a pair": "Mill-race reading room", "a house of eight windows": "Nine Ferry Lane"}


async def changes(home: str, cookie: str, job: str, count: int) -> tuple[list[float], list[float]]:
    """Seconds from a change to the new order, and to the new picture of the first window."""
    where = f"{home.replace('http', 'ws')}/live?at=/job/{job}"
    headers = {"Cookie": cookie, "Origin": home}
    order, picture = [], []
    async with connect(where, additional_headers=headers, max_size=None) as socket:
        await socket.send(json.dumps({"page": "benchmark"}))
        await until(socket, {"buy", "cloth"})
        for number in range(1, count + 1):
            began = time.perf_counter()
            value = f"{82 + number % 12} 1/2"
            path = "windows/0/finished_length"
            await socket.send(json.dumps({"n": number, "do": "type", "path": path, "value": value, "saw": ""}))
            while "order" not in (parts := await told(socket)) or "<ol" not in parts["order"]:
                pass
            order.append(time.perf_counter() - began)
            while "hung" not in parts or " old" in parts["hung"][:60]:
                parts = await told(socket)
            picture.append(time.perf_counter() - began)
    return order, picture


async def told(socket) -> dict[str, str]:
    return json.loads(await socket.recv()).get("parts", {})


async def until(socket, names: set[str]) -> None:
    seen: set[str] = set()
    while not names <= seen:
        parts = await told(socket)
        seen |= {name for name, html in parts.items() if "<svg" in html or "Buy" in html}


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    with tempfile.TemporaryDirectory() as folder:
        for name, title in JOBS.items():
            (Path(folder) / f"{name}.yaml").write_text(examples()[title])
        began = time.perf_counter()
        environment = {**os.environ, "LIGHTCHALK_STATE": str(Path(folder) / "state")}
        root = Path(__file__).parents[2]
        command = [sys.executable, "-m", "projector.commands.main", "open", "--no-browser"]
        environment["PYTHONPATH"] = str(root)
        server = subprocess.Popen(command, cwd=folder, env=environment, stdout=subprocess.PIPE, text=True)
        assert server.stdout is not None
        url = server.stdout.readline().removeprefix("The page: ").strip()
        home = url.partition("/?")[0]
        jar = CookieJar()
        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))
        opener.open(url).read()
        print(f"first page in a fresh process: {time.perf_counter() - began:.2f} s")
        for name in JOBS:
            answer = opener.open(f"{home}/open/{name.replace(' ', '%20')}.yaml")
            job = answer.url.rpartition("/")[2]
            cookie = "; ".join(f"{one.name}={one.value}" for one in jar)
            order, picture = asyncio.run(changes(home, cookie, job, count))
            of = psutil.Process(server.pid)
            memory = sum(one.memory_full_info().pss for one in (of, *of.children(recursive=True))) / 2**20
            for what, times in (("order", order), ("picture", picture)):
                times.sort()
                middle, late = times[len(times) // 2], times[int(0.95 * len(times)) - 1]
                print(f"{name}: {what} after {1000 * middle:.0f} ms, 95 of 100 within {1000 * late:.0f} ms")
            print(f"{name}: server and workers hold {memory:.0f} MB")
        server.terminate()
        server.wait()
        server.stdout.close()


if __name__ == "__main__":
    main()
