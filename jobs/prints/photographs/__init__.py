"""What a photograph tells of a print, step by step; each module knows only those above it.

``picture_file``, ``opening``  a file becomes brightness and colour, the right way up
``plane``, ``level``           maps of the plane; the photograph seen from straight above
``light``                      uneven light taken out
``basis``                      two short steps from motif to motif, from where the picture is like itself
``cells``, ``following``       the repeats cut out and laid on each other: the lattice over all of the picture
``finding``                    the print found, the picture cut to the cloth
``multiples``                  whether the true repeat is a multiple, because motifs differ in turn
``lattice``, ``symmetry``      the repeat as the trade names it; mirrors, glides, half-turn
``measuring``                  all of that together
``scale``, ``origin``          inches; where rows are counted from
``mean_tile``, ``combining``   the mean repeat as a picture; several photographs of one print
``from_file``                  one file measured, finer where its repeats are fine
"""
