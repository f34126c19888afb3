"""Benchmarks; not collected by the ordinary run: `pytest -n 0 tests/bench/bench_bot.py --benchmark-only`."""
