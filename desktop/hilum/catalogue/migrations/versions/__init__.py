"""One module a step, numbered; frozen once released; none imports a module of Hilum."""
