import { useEffect } from 'react';
import { useWorkbench } from '../../state/workbench.ts';

/** Puts the chosen colours, or those of the system, on the page. */
export function useTheme(): void {
  const theme = useWorkbench((bench) => bench.theme);
  useEffect(() => {
    const systemDark = matchMedia('(prefers-color-scheme: dark)');
    const apply = () => {
      const isDark = theme === 'system' ? systemDark.matches : theme === 'dark';
      document.documentElement.dataset['theme'] = isDark ? 'dark' : 'light';
    };
    apply();
    systemDark.addEventListener('change', apply);
    return () => systemDark.removeEventListener('change', apply);
  }, [theme]);
}
