import { workbenchState, useWorkbench } from '../state/workbench.ts';
import { useCapture } from '../state/current-capture.ts';
import { Button } from '../ui/controls/Button.tsx';
import { TextField } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { BurnerFacts } from './BurnerFacts.tsx';
import { SetupFormContext, useBurnerForm } from './form.ts';
import { LightOffPanel, ZeroPanel } from './LightOffPanel.tsx';
import { MakerRequirements, MetersAndRule } from './SetupPanels.tsx';

/** Step 1: the burner, what its maker requires, the technician. */
export function BurnerPlace() {
  const form = useBurnerForm();
  const capture = useCapture();
  const technician = useWorkbench((state) => state.technician);
  const { change, go, startNewVisit } = workbenchState();
  return (
    <SetupFormContext value={form}>
      <div className="place-head">
        <h1>Burner</h1>
        <div className="row">
          {form.isFixed && capture && <Button onClick={() => startNewVisit(capture)}>New visit</Button>}
          <Button kind="main" onClick={() => go('meters')}>
            Next: meters
          </Button>
        </div>
      </div>
      {form.isFixed && <Notice tone="plain" text="This visit is complete. Its values can no longer be changed." />}
      {form.fault && <Notice tone="bad" text={form.fault.message} />}
      <div className="columns">
        <Panel name="Burner and site">
          <BurnerFacts />
          <TextField
            name="Technician"
            value={form.isFixed ? (capture?.technician ?? '') : technician}
            disabled={form.isFixed}
            onChange={(text) => change({ technician: text })}
          />
        </Panel>
        <MakerRequirements />
        <MetersAndRule />
        <LightOffPanel />
        <ZeroPanel />
      </div>
    </SetupFormContext>
  );
}
