/**
 * Starts the page.
 */
import '@fontsource-variable/inter/wght.css';
import './index.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { NotSent } from '../later.ts';
import { Failure } from './Failure.tsx';
import { App } from './App.tsx';
import { loadSettings } from '../page/store.ts';

const LONGEST_WAIT_ms = 1000;

const host = document.getElementById('app');
if (host === null) throw new Error('main: the page has no element #app');
/** What the server did not send is told on the page; all else that a boundary caught is told to who looks into it, too. */
function onCaughtError(error: unknown, { componentStack }: { readonly componentStack?: string | undefined }): void {
  if (!(error instanceof NotSent)) console.error(error, componentStack);
}

const render = (): void =>
  createRoot(host, { onCaughtError }).render(
    <StrictMode>
      <Failure>
        <App />
      </Failure>
    </StrictMode>,
  );
// Light or dark stands before the first paint; a store that does not answer must not hold the page up.
void Promise.race([loadSettings(), new Promise((resolve) => setTimeout(resolve, LONGEST_WAIT_ms))]).then(render);
