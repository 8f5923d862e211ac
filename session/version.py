"""The program's version: here, because reading it from installed metadata costs 45 ms at every start."""

VERSION = "0.1.0"
