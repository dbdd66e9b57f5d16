"""The version of the program, where every room can read it."""

VERSION = "0.2.0"
PROGRAM = f"checkcloth {VERSION}"
