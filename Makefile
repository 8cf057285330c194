# The first two targets are all a reader needs: `make demo` and `make test`.
VENV := .venv
PY := $(VENV)/bin/python
UV := $(VENV)/bin/uv
COMPILE := $(UV) pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url \
	--no-emit-find-links --custom-compile-command "make lock"

# many small matrices: more threads cost more than they bring; the program sets the same for itself
export OPENBLAS_NUM_THREADS ?= 1

.PHONY: demo test quick check docs bench build lock clean

demo: $(VENV)/.ready
	$(VENV)/bin/earthfast demo --into demo-run

test: $(VENV)/.ready check
	$(PY) -m pytest -n 2 --dist loadfile
	$(MAKE) build

quick: $(VENV)/.ready
	$(PY) -m pytest -n 2 --dist loadfile -m "not slow"

check: $(VENV)/.ready
	$(VENV)/bin/ruff format --check .
	$(VENV)/bin/ruff check .
	$(VENV)/bin/mypy
	$(VENV)/bin/lint-imports
	! grep -rn "://" requirements/*.txt

bench: $(VENV)/.ready
	$(PY) -m benchmarks

docs: $(VENV)/.ready
	$(PY) -m docs.generate

build: $(VENV)/.ready
	rm -rf dist
	$(PY) -m build --wheel --no-isolation --outdir dist .
	$(PY) tests/wheel_check.py dist

lock: $(UV)
	$(COMPILE) requirements/bootstrap.in -o requirements/bootstrap.txt
	$(COMPILE) pyproject.toml -o requirements/run.txt
	$(COMPILE) pyproject.toml requirements/dev.in -o requirements/dev.txt

$(UV): requirements/bootstrap.txt
	python3 -m venv $(VENV)
	$(PY) -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/bootstrap.txt
	touch $(UV)

$(VENV)/.ready: $(UV) requirements/dev.txt pyproject.toml
	$(UV) pip sync --quiet --require-hashes --compile-bytecode --python $(PY) requirements/dev.txt
	$(UV) pip install --quiet --python $(PY) --no-deps --no-build-isolation --editable .
	touch $@

clean:
	rm -rf $(VENV) dist demo-run
