"""What came back from the floor, in; what is wrong with it, out: nothing here touches the disk."""
