"""A complaint held against what the model expects in exactly the stated conditions."""
