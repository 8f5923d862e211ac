"""In front on PYTHONPATH, this lets every Python that is begun find itself on a stand-in for Windows."""

import as_on_windows

as_on_windows.install()
