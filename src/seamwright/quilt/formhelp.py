"""How a quilt is typed, in words for whoever types it."""

QUILT_GRAMMAR = """\
A quilt as text, one fact a line, in a file of its own (.setting). The first line is always: seamwright quilt 1

  name evening watch                    what the quilt is called
  block kite kite.svg size 8 in         a block: its name in rows, its drawing, found from this file, its size
  block star star.seams                 without a size: the drawing's own
  set straight                          or: set on point
  row kite, kite 90, star reversed      from left to right, clockwise by 90, 180 or 270; reversed: left and right
                                        change places first, then it is rotated
  row 2 kite, plain sea                 two alike; a plain block of sea
  row kite 90 in dusk, 2 star in dusk   blocks in colourway dusk
  repeat 4 x 5                          all rows, so many times across x down
  triangles sea                         on point: what setting triangles are of
  sashing 1 1/2 in foam cornerstones brass outside
                                        strips between blocks; squares where they meet; also round all of them
  border 1 in foam                      from the inside out; sides first, then top and bottom
  border 4 in ink mitred                corners at 45 degrees
  border 3 in ink corners brass         squares in the corners
  border coping sea at least 1 in       as wide as makes the next pieced border come out
  border of wave corners star           a block again and again, its top outside; corners: a block, or plain sea
  binding ink 2 1/2 in                  as cut; or: binding none
  backing foam width 108 in over 4 in   width of its fabric, how far beyond the top on each side; or: backing none
  batting over 4 in                     or: batting none
  fit twin                              near to a size: crib, lap, twin, queen, king, or: fit 60 x 80 in; without a
                                        line 'repeat' rows come as often as it takes, else only a border widens
  fabric sky colour #a9c9dc value light as in a block; such lines recolour all blocks, as a palette does
  colourway dusk sky becomes ink        as in a block
  option rotary auto                    any option, for all blocks; wins over what a block's own text says

On point rows lie level between points: 4, 3, 4, 3, 4 blocks. Rows that are repeated are then stated with the same
number each; every second one loses its last block, and where the number of rows is even, the last is left out.
"""
