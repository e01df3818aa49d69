"""Looking back on past cooks: the page, the history, the pictures."""
