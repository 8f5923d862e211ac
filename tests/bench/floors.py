"""The least that could do the same: a bare command, a bare app of Textual, a bare line on disk."""

from __future__ import annotations

#: What a command takes that reads its arguments and one file of TOML.
BARE_COMMAND = """
import argparse, tomllib
argparse.ArgumentParser().parse_args([])
tomllib.loads("a = 1")
"""

#: The smallest app that writes a line to disk at a key, and shows that it did.
BARE_APP = """
import os, tempfile
from textual.app import App
from textual.widgets import Static

class Bare(App):
    shown = 0
    def compose(self):
        yield Static("0 keys", id="number")
        yield Static("press")
    def on_key(self, event):
        self.shown += 1
        os.write(line, b"x" * 220)
        os.fsync(line)
        self.query_one("#number").update(f"{self.shown} keys")

line = os.open(os.path.join(tempfile.mkdtemp(), "floor"), os.O_CREAT | os.O_APPEND | os.O_WRONLY)
Bare().run()
"""
