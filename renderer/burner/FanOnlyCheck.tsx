import { useEffect, useRef } from 'react';
import { formatPressure, pressureNumber } from '../../shared/model/format.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { useMeters } from '../state/live/meters.ts';
import { readNumber } from '../state/setup/read-number.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Notice } from '../ui/Notice.tsx';
import { fanOnlyDoubt } from './fan-only-doubt.ts';
import { useSetupForm } from './form.ts';

/** Says where the fan-only pressure is entered that the manometer reads something else with gas shut, and offers that. */
export function FanOnlyCheck() {
  const box = useRef<HTMLDivElement>(null);
  const { fields, isFixed, change, save } = useSetupForm();
  const { pressure } = useMeters();
  const unit = fields.fanOnlyUnit;
  const doubt = fanOnlyDoubt(readNumber(fields.fanOnly), unit, pressure, useBurnerState());
  const isShown = !isFixed && doubt !== undefined;
  // It comes up under the field, perhaps below the edge of the screen.
  useEffect(() => {
    if (isShown) box.current?.scrollIntoView({ block: 'nearest' });
  }, [isShown]);
  if (!isShown) return null;
  return (
    <div ref={box}>
      <Notice tone="warning" text={doubt.text}>
        <div className="row">
          <Button
            onClick={() => {
              change({ fanOnly: pressureNumber(doubt.read, unit) });
              save();
            }}
          >
            Use {formatPressure(doubt.read, unit)}
          </Button>
        </div>
      </Notice>
    </div>
  );
}
