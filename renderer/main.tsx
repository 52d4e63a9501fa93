import '@fontsource/b612/latin-400.css';
import '@fontsource/b612/latin-700.css';
import '@fontsource/b612-mono/latin-400.css';
import '@fontsource/b612-mono/latin-700.css';
import './ui/theme/tokens.css';
import './ui/theme/base.css';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { onFoundAgain } from './state/connection.ts';
import { adoptChartStyle } from './ui/theme/chart-variables.ts';

const queries = new QueryClient({
  defaultOptions: {
    // The host is on this machine: whether there is an internet makes no difference, and a fault will not mend by asking again.
    queries: { networkMode: 'always', retry: false, staleTime: Number.POSITIVE_INFINITY, refetchOnWindowFocus: false },
    mutations: { networkMode: 'always', retry: false },
  },
});
adoptChartStyle();
onFoundAgain(() => void queries.invalidateQueries());

createRoot(document.getElementById('bench')!).render(
  <StrictMode>
    <QueryClientProvider client={queries}>
      <App />
    </QueryClientProvider>
  </StrictMode>,
);
