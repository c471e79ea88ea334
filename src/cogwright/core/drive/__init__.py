"""What else turns a wheel: fixed drives, and the loads that rider and motor put on chain and hub."""
