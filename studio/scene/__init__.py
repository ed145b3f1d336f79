"""One list of drawing steps, painted on pages as SVG and on paper as PDF."""
