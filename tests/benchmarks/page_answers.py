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

ROOT = Path(__file__).parents[2]
STARTS = 3
OTHERS = "click, jinja2, starlette.applications, starlette.staticfiles, uvicorn, websockets, yaml, segno"
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


def start(folder: str) -> tuple[subprocess.Popen[str], str, urllib.request.OpenerDirector, CookieJar, str]:
    """The program started as a person starts it and its first page loaded; what that took, in words."""
    began = time.perf_counter()
    environment = {**os.environ, "LIGHTCHALK_STATE": str(Path(folder) / "state"), "PYTHONPATH": str(ROOT)}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)  # from its second start on a person's program is compiled
    command = [sys.executable, "-m", "projector.commands.main", "open", "--no-browser"]
    server = subprocess.Popen(command, cwd=folder, env=environment, stdout=subprocess.PIPE, text=True)
    assert server.stdout is not None
    url = server.stdout.readline().removeprefix("The page: ").strip()
    jar = CookieJar()
    opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))
    opener.open(url).read()
    took_s = time.perf_counter() - began
    return (
        server,
        url.partition("/?")[0],
        opener,
        jar,
        f"{took_s:.2f} s, {spent_s(psutil.Process(server.pid)):.2f} s of work",
    )


def end(server: subprocess.Popen[str]) -> None:
    """The program ended."""
    server.terminate()
    server.wait()
    assert server.stdout is not None
    server.stdout.close()


def spent_s(process: psutil.Process) -> float:
    """Processor time of a process."""
    return float(sum(process.cpu_times()[:2]))


def of_others_s() -> float:
    """Processor time that Python and the packages take to be loaded, without a line of ours."""
    before = os.times()
    subprocess.run([sys.executable, "-c", f"import {OTHERS}"], check=True)
    after = os.times()
    return after.children_user + after.children_system - before.children_user - before.children_system


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    with tempfile.TemporaryDirectory() as folder:
        for name, title in JOBS.items():
            (Path(folder) / f"{name}.yaml").write_text(examples()[title])
        for number in range(STARTS + 1):
            server, *_, took = start(folder)
            end(server)
            if not number:
                continue
            print(f"first page in a fresh process: {took}; {of_others_s():.2f} s that packages take to be loaded")
        server, home, opener, jar, _ = start(folder)
        for name in JOBS:
            answer = opener.open(f"{home}/open/{name.replace(' ', '%20')}.yaml")
            job = answer.url.rpartition("/")[2]
            cookie = "; ".join(f"{one.name}={one.value}" for one in jar)
            of = psutil.Process(server.pid)
            before_s = spent_s(of)
            order, picture = asyncio.run(changes(home, cookie, job, count))
            all_of = (of, *of.children(recursive=True))
            memory = sum(one.memory_full_info().pss for one in all_of) / 2**20
            for what, times in (("order", order), ("picture", picture)):
                times.sort()
                best, middle, late = (1000 * times[at] for at in (0, len(times) // 2, int(0.95 * len(times)) - 1))
                print(f"{name}: {what} after {middle:.0f} ms, 95 of 100 within {late:.0f} ms, at best {best:.0f} ms")
            print(f"{name}: the server works {1000 * (spent_s(of) - before_s) / count:.0f} ms for a change")
            print(f"{name}: server and workers hold {memory:.0f} MB")
        end(server)


if __name__ == "__main__":
    main()
