"""The version of the program, where every room can read it."""

VERSION = "0.1.0"
PROGRAM = f"checkcloth {VERSION}"
