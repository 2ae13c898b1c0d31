"""Nothing in; the four type faces of every print and the files they come from, out. No library."""

from __future__ import annotations

TEXT, BOLD, MONO, MONO_BOLD = "wm-text", "wm-bold", "wm-mono", "wm-mono-bold"

FILES = {
    TEXT: ("fontpkg_fira_sans", "FiraSans-Regular.ttf"),
    BOLD: ("fontpkg_fira_sans", "FiraSans-SemiBold.ttf"),
    MONO: ("fontpkg_ibm_plex_mono", "IBMPlexMono-Regular.ttf"),
    MONO_BOLD: ("fontpkg_ibm_plex_mono", "IBMPlexMono-Bold.ttf"),
}
"""The package and the file of each face."""
