"""Readers under a coverage-guided fuzzer: what they are given, what they may not do, one command to run it."""
