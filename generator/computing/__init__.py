"""A checked process and the values of one part in; every number of it with its working, out."""
