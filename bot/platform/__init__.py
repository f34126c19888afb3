"""The live chat platform: the only room that knows the chat library."""
