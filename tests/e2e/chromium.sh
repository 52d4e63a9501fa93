#!/bin/sh
# Chromium behind everything else: on a busy machine the simulated meters and the host must not wait for what is drawn, or a meter is
# silent that never was.
exec nice -n 5 "$PILOT_BENCH_E2E_CHROMIUM" "$@"
