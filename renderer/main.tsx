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
import { onReconnect } from './state/connection.ts';
import { adoptChartStyle } from './ui/theme/chart-variables.ts';

const queries = new QueryClient({
  defaultOptions: {
    // The host is on this machine: no internet is needed, and a fault will not go away by a retry.
    queries: { networkMode: 'always', retry: false, staleTime: Number.POSITIVE_INFINITY, refetchOnWindowFocus: false },
    mutations: { networkMode: 'always', retry: false },
  },
});
adoptChartStyle();
onReconnect(() => void queries.invalidateQueries());

createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <QueryClientProvider client={queries}>
      <App />
    </QueryClientProvider>
  </StrictMode>,
);
