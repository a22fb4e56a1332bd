"""The trade's arithmetic: plain floats in SI in and out, one idea a file, each sum with its source."""
