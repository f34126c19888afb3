"""What is counted, for Prometheus: numbers only, never a word or a person."""

from __future__ import annotations

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, generate_latest

SECONDS = (0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 3, 10, 30, 120, 900)


class Metrics:
    """One registry a running bot, so that two in one process do not mix."""

    def __init__(self) -> None:
        self.registry = CollectorRegistry()
        self.accepted = self._counter("accepted", "Tags accepted, by the way they came", "way")
        self.refused = self._counter("refused", "Tags not taken, by reason", "reason")
        self.sent = self._counter("sent", "Answers settled, by outcome", "outcome")
        self.failures = self._counter("failures", "Steps that failed and will be tried again", "part")
        self.presses = self._counter("presses", "Buttons, commands and forms", "act")
        self.reply_seconds = Histogram(
            "watchglass_reply_seconds",
            "From the post on the platform to its answer there",
            buckets=SECONDS,
            registry=self.registry,
        )
        self.waiting = self._gauge("waiting", "Accepted messages not answered yet")
        self.unsent = self._gauge("unsent", "Answers not sent yet")
        self.set_aside = self._gauge("set_aside", "Messages that failed three times")
        self.paused = self._gauge("paused_channels", "Channels where permissions are missing")
        self.loop_lag = self._gauge("loop_lag_seconds", "Longest delay of the event loop in the last minute")
        self.connected = self._gauge("connected", "1 while the gateway is connected")

    def _counter(self, name: str, says: str, label: str) -> Counter:
        return Counter(f"watchglass_{name}", says, [label], registry=self.registry)

    def _gauge(self, name: str, says: str) -> Gauge:
        return Gauge(f"watchglass_{name}", says, registry=self.registry)

    def text(self) -> bytes:
        return generate_latest(self.registry)
