"""The 3D view of 20,000 blocks beside a bare instanced mesh of the same size, frame about in one browser.

python bench/scene.py            20,000 blocks, 15 frames each
python bench/scene.py 2000 30    another number of blocks, of frames

There is no graphics card where this usually runs, so a frame is drawn in software and its milliseconds say little; the
ratio of two scenes drawn turn about in the same run is what counts. Bound: 1.2 times the bare mesh that casts and takes
the same shadows. The mesh without any shadows is shown too.
"""

from __future__ import annotations

import functools
import http.server
import shutil
import statistics
import sys
import threading
from pathlib import Path

from playwright.sync_api import sync_playwright

ROOT = Path(__file__).resolve().parents[1]
MADE = ROOT / "ui/dist/bench"
BOUND = 1.2
FLAGS = [
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--ignore-gpu-blocklist",
    "--no-sandbox",
]


class Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        pass


def main(arguments: list[str]) -> None:
    given = [int(one) for one in arguments]
    count, frames = (given + [20_000, 15][len(given) :])[:2]
    sys.path.insert(0, str(ROOT / "tools"))
    import web

    web.make_modules(ROOT)
    web.call_npm(ROOT, ["exec", "--", "vite", "build", "--config", "vite.bench.config.ts", "--logLevel", "error"])
    chromium = next((path for name in ("chromium", "chromium-browser") if (path := shutil.which(name))), None)
    if chromium is None:
        raise SystemExit("Chromium is not there; make test installs it.")
    handler = functools.partial(Quiet, directory=str(MADE))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server, sync_playwright() as player:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        browser = player.chromium.launch(executable_path=chromium, args=FLAGS)
        page = browser.new_page()
        page.goto(f"http://127.0.0.1:{server.server_address[1]}/scene.html")
        page.wait_for_function("window.run")
        timed = page.evaluate(f"run({count}, {frames}, 1280, 800)")
        browser.close()
        server.shutdown()
    ours, shadowed, bare = (statistics.median(timed[f"{name}_ms"]) for name in ("ours", "bare_shadows", "bare"))
    print(f"{count} blocks, 1280 x 800, {frames} frames each, medians")
    print(f"  ours                        {ours:7.0f} ms")
    print(f"  bare mesh, same shadows     {shadowed:7.0f} ms   ours is {ours / shadowed:.2f} times it, bound {BOUND}")
    print(f"  bare mesh, no shadows       {bare:7.0f} ms   ours is {ours / bare:.2f} times it")
    if ours > BOUND * shadowed:
        raise SystemExit("slower than the bound")


if __name__ == "__main__":
    main(sys.argv[1:])
