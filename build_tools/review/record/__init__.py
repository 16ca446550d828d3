"""The record of a review: what every finding is made of, and all of them in the order in which they are read."""
