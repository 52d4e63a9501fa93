import { useBench } from '../state/bench.ts';
import { useMeters } from '../state/meters.ts';
import { Button } from '../ui/Button.tsx';
import { Plate } from '../ui/Plate.tsx';
import { ConnectMeter } from './ConnectMeter.tsx';
import { MeterCard } from './MeterCard.tsx';
import './meters.css';

/** Step 2: the two meters, seen to be read rightly before anything is recorded. */
export function MetersPlace() {
  const { meters } = useMeters();
  const go = useBench((bench) => bench.go);
  return (
    <>
      <div className="place-head">
        <h1>Meters</h1>
        <Button kind="main" onClick={() => go('sweep')}>
          On to sweep
        </Button>
      </div>
      <div className="columns">
        {meters?.map((meter) => (
          <MeterCard key={meter.port} meter={meter} />
        ))}
        {meters?.length === 0 && (
          <Plate name="No meter connected">
            <p>One manometer on the pilot test tap, one meter on the flame signal.</p>
          </Plate>
        )}
        <ConnectMeter taken={meters?.map((meter) => meter.port) ?? []} />
      </div>
    </>
  );
}
