"""What stands round a view and over it: head, foot, findings, lists."""
