"""Records of trials, beads, coupons, pieces and faces; scatter, effects and plans."""
