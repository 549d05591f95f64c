#!/usr/bin/env bash
# Runs a program on a display of its own, without a window manager (see Atoms.cpp).
#   on-display.sh PROGRAM [ARGUMENTS]
exec xvfb-run -a -s "-screen 0 1400x960x24" "$@"
