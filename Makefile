# Every command a contributor needs; `make help` lists them. Nothing here needs more than
# git, make, python3 and python3-venv. All paths are relative, so the folder may have spaces.

PYTHON3 ?= python3
PYTHON := .venv/bin/python
WITNESSMARK := .venv/bin/witnessmark
PIP := $(PYTHON) -m pip --disable-pip-version-check
STAMP := .venv/.installed
# A folder filled by `make wheels`: give it, and nothing is fetched from anywhere.
WHEELS ?=
FROM := $(if $(WHEELS),--no-index --find-links "$(WHEELS)")
PIP_TOOLS := pip-tools==7.6.2
PIP_AUDIT := pip-audit==2.10.1
# `make lock UPGRADE=--upgrade` takes newer versions; without it only what is missing is added.
UPGRADE ?=

COMPILE := PIP_CONFIG_FILE=/dev/null PIP_FIND_LINKS= PIP_EXTRA_INDEX_URL= \
	build/lock/bin/python -m piptools compile --quiet $(UPGRADE) --generate-hashes \
	  --allow-unsafe --strip-extras --no-header --no-annotate \
	  --no-emit-index-url --no-emit-find-links

.DEFAULT_GOAL := all
.DELETE_ON_ERROR:
.PHONY: all help install test prove mutate lint format bench bench-beside bench-record bench-library sample generated wheels lock audit clean

all: install ## install, check every process, print every traveller into output/draft/ (the default)
	$(WITNESSMARK) check --whole
	$(WITNESSMARK) draft --all

help: ## this list
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "make %-12s %s\n", $$1, $$2 }' Makefile
	@echo 'make WHEELS=folder (with any of these): install from that folder, without a network'

install: $(STAMP) ## the program and its tools, into .venv, exactly as requirements.lock says

$(STAMP): requirements.lock pyproject.toml setup.py
	$(PYTHON3) -m venv .venv
	$(PIP) install --quiet --require-hashes --only-binary :all: $(FROM) -r requirements.lock
	$(PIP) install --quiet --no-index --no-deps --no-build-isolation --editable .
	@touch $(STAMP)

test: install ## all tests but the long proofs
	$(PYTHON) -m pytest -q -n auto --dist loadfile --no-loadscope-reorder

prove: install ## the long proofs
	$(PYTHON) -m pytest -q -m prove

mutate: install ## change every operator and constant of the calculations: does a test notice?
	$(PYTHON) -m tests.mutate

lint: install ## style, layout of the code, types
	$(PYTHON) -m ruff check .
	$(PYTHON) -m ruff format --check .
	$(PYTHON) -m mypy

format: install ## lay the code out and put the imports in order
	$(PYTHON) -m ruff check --fix --select I .
	$(PYTHON) -m ruff format .

bench: install ## how long things take here
	$(PYTHON) -m benchmarks

bench-beside: install ## the same pages by other libraries, in an environment of their own in build/
	$(PYTHON3) -m venv build/beside
	build/beside/bin/python -m pip install --quiet --require-hashes --only-binary :all: $(FROM) \
	  -r benchmarks/beside.txt
	$(PYTHON) -m benchmarks.beside build/beside/bin/python

bench-record: install ## how the record does with 10 to 10,000 travellers
	$(PYTHON) -m benchmarks.record

bench-library: install ## how check and draft do in libraries of 10 to 10,000 processes
	$(PYTHON) -m benchmarks.library

sample: install ## make output/sample/ anew
	$(PYTHON) tests/sample.py

generated: install ## make the editor schemas and the handbook's text anew
	$(PYTHON) -m tests.generated

wheels: install ## every locked wheel and the program's own, into wheels/, to install without a network
	rm -rf build/lib build/bdist.*
	$(PIP) download --quiet --require-hashes --only-binary :all: --dest wheels -r requirements.lock
	$(PIP) wheel --quiet --no-index --no-deps --no-build-isolation --wheel-dir wheels .

# One registry and no local folder: the lock holds every file of a version, of all kinds of machine.
lock: ## write requirements.lock and benchmarks/beside.txt anew
	$(PYTHON3) -m venv build/lock
	build/lock/bin/python -m pip install --quiet $(PIP_TOOLS)
	$(COMPILE) --all-extras --output-file requirements.lock pyproject.toml
	$(COMPILE) --output-file benchmarks/beside.txt benchmarks/beside.in
	sed -i -e '/^#/d' -e '/^$$/d' requirements.lock benchmarks/beside.txt

# Strict: a version that the database does not know is a failure, never a pass.
audit: ## ask the registry's database whether a locked version has a known vulnerability
	$(PYTHON3) -m venv build/audit
	build/audit/bin/python -m pip install --quiet $(PIP_AUDIT)
	build/audit/bin/pip-audit --strict --disable-pip --require-hashes -r requirements.lock

clean: ## remove output/draft/, the throw-away prints, and nothing else
	rm -rf output/draft
