"""Floor 3: the curved foil: shape, lift along its span, limits of the flow, bending."""
