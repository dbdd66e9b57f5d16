"""The search in bands that are not even: there the order of the stripes counts too.

In an even check every two stripes touch in the same ways, so a choice of colours has one score
in every order. In other bands a stripe may lie beside some and not beside others, and tones of
three stripes may meet. A colourway is then an *arrangement*: a colour for each stripe in turn.
"""
