import { findScenario } from '../../shared/practice/scenarios.ts';
import { practicePorts } from '../../shared/practice/bench-meters.ts';
import { useConnection } from '../state/connection.ts';
import { useHostAction } from '../state/host-calls.ts';
import { workbenchState, useWorkbench } from '../state/workbench.ts';
import { useCapture } from '../state/current-capture.ts';
import { useFeed } from '../state/feeds.ts';
import { useSaveForm } from '../state/setup/save-form.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { useMeters } from '../state/live/meters.ts';
import { Button } from '../ui/controls/Button.tsx';
import { ChoiceField } from '../ui/controls/Field.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Shape } from '../ui/Shape.tsx';
import { showsBench } from './shows-bench.ts';
import { PracticeControls } from './PracticeControls.tsx';
import './practice.css';

/** The invented burner beside the workbench, marked as practice. */
export function PracticeBench() {
  const isOpen = useWorkbench((state) => state.practiceOpen);
  const change = useWorkbench((state) => state.change);
  const { meters } = useMeters();
  const hasAlarm = useBurnerState()?.alarm !== undefined;
  if (!showsBench(meters, hasAlarm)) return null;
  return (
    <aside className="practice" data-open={isOpen} aria-label="Practice bench">
      <div className="practice-header">
        {isOpen && <span>PRACTICE</span>}
        <Button
          aria-expanded={isOpen}
          aria-label={isOpen ? 'Close the practice bench' : 'Open the practice bench'}
          onClick={() => change({ practiceOpen: !isOpen })}
        >
          {isOpen ? <Shape name="cross" size={16} /> : 'PRACTICE'}
        </Button>
      </div>
      {isOpen && <OpenBench />}
    </aside>
  );
}

function OpenBench() {
  const state = useFeed('practice.live', {});
  const { meters } = useMeters();
  const capture = useCapture();
  const connect = useHostAction('meters.connect');
  const act = useHostAction('practice.act');
  const saveForm = useSaveForm();
  const isLost = useConnection() === 'lost';
  if (!state || isLost) return null;

  const isConnected = ({ port }: { port: string }) => meters?.some((meter) => meter.port === port);
  const missing = [practicePorts.pressure, practicePorts.signal].filter((meter) => !isConnected(meter));
  const scenario = findScenario(state.scenario);
  const description = state.scenarios.find(({ name }) => name === state.scenario)?.description;
  const fault = connect.fault ?? act.fault;

  const connectBoth = async () => {
    for (const { port, profile } of missing) await connect.run({ port, profile });
  };
  const loadBurnerData = () => {
    if (!scenario) return;
    const { burner, changeBurner, loadBurner, technician, change } = workbenchState();
    loadBurner({ ...scenario.burner, id: burner.id ?? '', setup: scenario.setup });
    changeBurner({ id: undefined });
    if (!technician) change({ technician: 'Practice' });
    saveForm();
  };

  return (
    <>
      {missing.length > 0 && meters && (
        <Button kind="main" size="large" disabled={connect.busy} onClick={() => void connectBoth()}>
          Connect both practice meters
        </Button>
      )}
      {fault && <Notice tone="bad" text={fault.message} />}
      <ChoiceField
        name="Practice burner"
        value={state.scenario}
        choices={state.scenarios.map(({ name }) => ({ value: name, label: scenarioTitle(name) }))}
        onChange={(name) => void act.run({ scenario: name })}
        {...(description && { help: description })}
      />
      {capture?.status !== 'complete' && <Button onClick={loadBurnerData}>Use this burner’s data</Button>}
      <PracticeControls state={state} />
      {missing.length === 0 && !isConnected(practicePorts.air) && (
        <Button
          disabled={connect.busy}
          onClick={() => void connect.run({ port: practicePorts.air.port, profile: practicePorts.air.profile })}
        >
          Connect fan, spark and valve
        </Button>
      )}
    </>
  );
}

/** "top-never-reached" becomes "Top never reached". */
const scenarioTitle = (name: string) => name.charAt(0).toUpperCase() + name.slice(1).replaceAll('-', ' ');
