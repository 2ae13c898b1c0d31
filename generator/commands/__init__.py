"""What was asked on the command line in; an exit code out: 0 done, 1 findings, 2 misuse."""
