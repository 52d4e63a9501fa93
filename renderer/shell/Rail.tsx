import { workbenchState, useWorkbench, type Theme } from '../state/workbench.ts';
import { Shape } from '../ui/Shape.tsx';
import { doneSteps, steps, type VisitProgress } from '../state/visit-steps.ts';
import { NewTab } from './NewTab.tsx';

const themes: { theme: Theme; name: string }[] = [
  { theme: 'system', name: 'Auto' },
  { theme: 'light', name: 'Light' },
  { theme: 'dark', name: 'Dark' },
];

/** The steps of the visit, always visible; those done have a check mark. */
export function Rail({ progress }: { progress: VisitProgress }) {
  const place = useWorkbench((state) => state.place);
  const theme = useWorkbench((state) => state.theme);
  const { go, change } = workbenchState();
  const done = doneSteps(progress);
  const themeAt = themes.findIndex((one) => one.theme === theme);
  const next = themes[(themeAt + 1) % themes.length]!;
  return (
    <nav className="rail" aria-label="Steps of the visit">
      <ol>
        {steps.map((step, i) => (
          <li key={step.place}>
            <button
              type="button"
              className="rail-step"
              aria-current={place === step.place ? 'step' : undefined}
              data-done={done.has(step.place)}
              onClick={() => go(step.place)}
            >
              <span className="rail-sign">{done.has(step.place) ? <Shape name="check" size={16} /> : i + 1}</span>
              <span>
                {step.name}
                {done.has(step.place) && <span className="visually-hidden">, done</span>}
              </span>
            </button>
          </li>
        ))}
      </ol>
      <div className="rail-foot">
        <button
          type="button"
          className="rail-step"
          aria-current={place === 'earlier' ? 'step' : undefined}
          onClick={() => go('earlier')}
        >
          <span className="rail-sign">
            <Shape name="left" size={16} />
          </span>
          <span>Earlier</span>
        </button>
        <button
          type="button"
          className="rail-step"
          aria-label={`Colors: ${themes[themeAt]!.name}. Change to ${next.name}`}
          onClick={() => change({ theme: next.theme })}
        >
          <span className="rail-sign">
            <Shape name="half-circle" size={16} />
          </span>
          <span>{themes[themeAt]!.name}</span>
        </button>
        <NewTab />
      </div>
    </nav>
  );
}
