"""Slabtide: the whole job of a coloured, stamped slab, on the concrete's own clock."""
