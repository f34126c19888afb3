"""The program that people meet: it takes tags in, answers once, and keeps the creator's queue."""
