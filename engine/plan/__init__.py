"""The plan: facts and a procedure's circuit -> as found and as planned, weakest part, one remedy, what to buy."""
