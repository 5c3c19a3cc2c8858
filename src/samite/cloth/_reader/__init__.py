"""The parts of the label reader; `samite.cloth.label` is their face."""
