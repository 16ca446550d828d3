"""The list to buy of a remedy, from the sizes of a light."""
