# Each target does its own set-up: a fresh clone needs python3 (3.11 to 3.13) with venv, and make.
PYTHON ?= python3
BIN := .venv/bin
# The theme prints a notice on every run that its own fixes end on 5 May 2027; README.md says so once instead.
export NO_MKDOCS_2_WARNING = 1

# Two processes that take a file at a time, in the order that tests/conftest.py gives.
SHARED := -n 2 --dist loadfile --no-loadscope-reorder
TESTS ?= --ignore=tests/browser

.PHONY: site test test-all costs check serve bench mutate lock pictures schema clean

site: .venv/site.stamp
	$(BIN)/python -m build_tools build

check: .venv/site.stamp
	$(BIN)/python -m build_tools check --strict

serve: .venv/site.stamp
	$(BIN)/python -m build_tools serve

test: .venv/test.stamp
	$(BIN)/python tests/setup_browser.py
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/python -m build_tools check --strict
	$(BIN)/python -m pytest $(SHARED)

# Before a release: the same with many more made inputs.
test-all:
	THOROUGH=1 $(MAKE) test

# What each file of tests costs; one process, since two would count what they share twice.
costs: .venv/test.stamp
	$(BIN)/python -m pytest -q -p tests.costs $(TESTS)

bench: .venv/test.stamp
	$(BIN)/python tests/bench.py

N ?= 100000
SEED ?= 1
mutate: .venv/test.stamp
	$(BIN)/python tests/mutate.py --count $(N) --seed $(SEED)

schema: .venv/site.stamp
	$(BIN)/python -m build_tools schema

pictures: .venv/test.stamp
	$(BIN)/python tests/setup_browser.py
	$(BIN)/python tests/pictures.py

# Needs `uv` on the path; writes both locks without naming any package host.
lock:
	uv pip compile --universal --generate-hashes --no-header --no-annotate --extra build pyproject.toml -o requirements.lock
	uv pip compile --universal --generate-hashes --no-header --no-annotate --extra build --extra test pyproject.toml -o requirements-test.lock

clean:
	rm -rf .venv .cache site

.venv/bin/python:
	$(PYTHON) -m venv .venv

.venv/site.stamp: requirements.lock pyproject.toml | .venv/bin/python
	$(BIN)/python -m pip install --quiet --require-hashes --requirement requirements.lock
	$(BIN)/python -m pip install --quiet --no-deps --no-build-isolation --editable .
	touch $@

.venv/test.stamp: requirements-test.lock pyproject.toml | .venv/bin/python
	$(BIN)/python -m pip install --quiet --require-hashes --requirement requirements-test.lock
	$(BIN)/python -m pip install --quiet --no-deps --no-build-isolation --editable .
	touch $@ .venv/site.stamp
