/**
 * Starts the page.
 */
import '@fontsource-variable/inter/wght.css';
import './index.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { Failure } from './Failure.tsx';
import { App } from './App.tsx';
import { loadSettings } from '../page/store.ts';

const LONGEST_WAIT_ms = 1000;

const host = document.getElementById('app');
if (host === null) throw new Error('main: the page has no element #app');
const render = (): void =>
  createRoot(host).render(
    <StrictMode>
      <Failure>
        <App />
      </Failure>
    </StrictMode>,
  );
// Light or dark stands before the first paint; a store that does not answer must not hold the page up.
void Promise.race([loadSettings(), new Promise((resolve) => setTimeout(resolve, LONGEST_WAIT_ms))]).then(render);
