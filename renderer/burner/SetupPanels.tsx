import { setPointRules, setupDefaults, type SetPointRule } from '../../shared/model/setup.ts';
import { ChoiceField } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { useSetupForm } from './form.ts';
import { SetupField } from './SetupField.tsx';

const ruleNames: Record<SetPointRule, string> = {
  'equal-pressure': 'Same margin in pressure',
  'equal-flow': 'Same margin in gas flow',
  'equal-ratio': 'Same ratio',
};

/** What the burner's manual requires. */
export function MakerRequirements() {
  return (
    <Panel name="The maker asks for">
      <SetupField field="makerLow" name="Lowest pilot pressure" unit={{ choose: 'makerUnit' }} />
      <SetupField field="makerHigh" name="Highest pilot pressure" unit={{ choose: 'makerUnit' }} />
      <SetupField field="minimumSignal" name="Least flame signal" unit={{ choose: 'minimumSignalUnit' }} />
      <SetupField
        field="trialSeconds"
        name="Pilot trial"
        unit={{ fixed: 's' }}
        help={`Empty: ${setupDefaults.pilotTrialSeconds} s, common practice`}
      />
      <SetupField
        field="purgeSeconds"
        name="Purge before each trial"
        unit={{ fixed: 's' }}
        help={`Empty: ${setupDefaults.purgeSeconds} s, common practice`}
      />
      <SetupField
        field="fanOnly"
        name="Fan-only pressure"
        unit={{ choose: 'fanOnlyUnit' }}
        help="What the gauge shows with the pilot valve shut and the fan running"
      />
    </Panel>
  );
}

/** Accuracy of the meters, and how the set point is chosen. */
export function MetersAndRule() {
  const { fields, isFixed, change, save } = useSetupForm();
  return (
    <Panel name="Meters and set point">
      <SetupField field="pressurePercent" name="Manometer accuracy, of reading" unit={{ fixed: '± %' }} />
      <SetupField field="pressureAbsolute" name="and fixed part" unit={{ choose: 'pressureAbsoluteUnit' }} />
      <SetupField field="signalPercent" name="Signal meter accuracy, of reading" unit={{ fixed: '± %' }} />
      <SetupField field="signalAbsolute" name="and its fixed part" unit={{ choose: 'signalAbsoluteUnit' }} />
      <ChoiceField
        name="Set point by"
        value={fields.setPointRule}
        disabled={isFixed}
        choices={setPointRules.map((rule) => ({ value: rule, label: ruleNames[rule] }))}
        onChange={(setPointRule) => {
          change({ setPointRule });
          save();
        }}
      />
      <SetupField
        field="dropPercent"
        name="Allowed drop of signal"
        unit={{ fixed: '%' }}
        help={`Below the plateau. Empty: ${setupDefaults.signalDropFraction * 100} %`}
      />
      <SetupField
        field="confidencePercent"
        name="Confidence"
        unit={{ fixed: '%' }}
        help={`Empty: ${setupDefaults.confidence * 100} %`}
      />
    </Panel>
  );
}
