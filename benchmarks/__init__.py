"""How long things take on this machine; ratios within one run, never a test."""
