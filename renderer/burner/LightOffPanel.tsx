import { usualClaim, usualPlan } from '../../shared/light-off/plan.ts';
import { setupDefaults } from '../../shared/model/setup.ts';
import { planKinds, type PlanKind } from '../state/setup/setup-fields.ts';
import { ChoiceField } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { useSetupForm } from './form.ts';
import { MethodField } from './MethodField.tsx';
import { SetupField } from './SetupField.tsx';

const planNames: Record<PlanKind, string> = {
  row: 'So many trials in a row',
  claim: 'A probability to light',
};

const usually = (value: number, unit = ''): string => `If empty: ${value}${unit} (common practice)`;

/** Which light-off trials prove a setting, and what was agreed on how far they may go. */
export function LightOffPanel() {
  const { fields, isFixed, change, save } = useSetupForm();
  return (
    <Panel name="Light-off trials">
      <ChoiceField
        name="A setting is proved by"
        value={fields.planKind}
        disabled={isFixed}
        choices={planKinds.map((kind) => ({ value: kind, label: planNames[kind] }))}
        onChange={(planKind) => {
          change({ planKind });
          save();
        }}
      />
      {fields.planKind === 'row' ? (
        <SetupField
          field="planPlain"
          name="Trials with the spark at once"
          unit={{ fixed: 'in a row' }}
          help={usually(usualPlan.plain)}
        />
      ) : (
        <>
          <SetupField
            field="claimPercent"
            name="Lights in at least"
            unit={{ fixed: '%' }}
            help={`Shown by trials without any failure. ${usually(usualClaim.probability * 100, ' %')}`}
          />
          <SetupField
            field="claimConfidencePercent"
            name="At a confidence of"
            unit={{ fixed: '%' }}
            help={usually(usualClaim.confidence * 100, ' %')}
          />
        </>
      )}
      <SetupField
        field="planDelayed"
        name="Trials with the spark delayed"
        unit={{ fixed: 'in a row' }}
        help={usually(usualPlan.delayed)}
      />
      <SetupField
        field="longestDelay"
        name="Longest spark delay agreed"
        unit={{ fixed: 's' }}
        help="Unburned gas collects until the spark: agree on it with everyone there, within the maker’s manual. If empty, none is advised."
      />
      <SetupField
        field="trialLow"
        name="Lowest pressure agreed for trials"
        unit={{ choose: 'trialUnit' }}
        help="If empty: the maker’s minimum"
      />
      <SetupField
        field="trialHigh"
        name="Highest pressure agreed for trials"
        unit={{ choose: 'trialUnit' }}
        help="If empty: the maker’s maximum"
      />
      <SetupField
        field="mostFailures"
        name="Failures that end a side"
        unit={{ fixed: 'trials' }}
        help={`Below or above the setting. If empty: ${setupDefaults.mostFailures}`}
      />
      <MethodField />
    </Panel>
  );
}

/** What the meters show where there is nothing to measure. */
export function ZeroPanel() {
  return (
    <Panel name="Meters at zero">
      <SetupField
        field="pressureZero"
        name="Manometer open to the air"
        unit={{ choose: 'pressureZeroUnit' }}
        help="Its zero error is shown, and widens the guard bands; it is not taken off"
      />
      <SetupField
        field="darkSignal"
        name="Flame signal without flame and spark"
        unit={{ choose: 'darkSignalUnit' }}
        help="Gas shut"
      />
      <SetupField
        field="sparkOnlySignal"
        name="Flame signal with the spark alone"
        unit={{ choose: 'sparkOnlySignalUnit' }}
        help="Gas shut: a detector that sees the spark takes it for a flame"
      />
    </Panel>
  );
}
