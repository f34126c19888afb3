"""Tests, in the same rooms as the packages; `tests.loopback` is the platform they run against."""
