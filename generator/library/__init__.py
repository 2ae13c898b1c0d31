"""A folder of many processes in; the verdict on each, kept or made anew, and its prints, out."""
