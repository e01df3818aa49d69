"""One cook in progress: what comes in, what it decides, what goes out."""
