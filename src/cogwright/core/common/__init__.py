"""What all of core uses: errors, text made safe to show, units, words."""
