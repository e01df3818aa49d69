"""The charcoal fire: a kettle grill, a filter over it, and advice."""
