"""What stands in `deploy/`, as far as it can be tried without a service manager and without a registry."""
