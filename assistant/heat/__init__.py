"""Pure numerics: conduction, ensemble, forecast, fire, lethality, thermometer check."""
