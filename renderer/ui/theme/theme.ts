import { useEffect } from 'react';
import { useWorkbench } from '../../state/workbench.ts';

/** Applies the chosen theme to the page, or that of the system. */
export function useTheme(): void {
  const theme = useWorkbench((state) => state.theme);
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
