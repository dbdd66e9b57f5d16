"""Requests that are no step of the state alone: they read or write files, or only answer.

Each is a function of the session, the request, and the bytes of files that came with it.
"""
