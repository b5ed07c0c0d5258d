"""How to cut, grind, polish and etch a piece so that it shows what is to be seen."""
