"""The episode brief: what to cover, with which numbers, pictures and demonstrations."""
