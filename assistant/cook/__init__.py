"""Pure: events, state, decisions, prompts, plan."""
