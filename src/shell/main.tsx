/**
 * Starts the page.
 */
import '@fontsource-variable/inter/wght.css';
import './index.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { Failure } from './Failure.tsx';
import { App } from './App.tsx';

const host = document.getElementById('app');
if (host === null) throw new Error('main: the page has no element #app');
createRoot(host).render(
  <StrictMode>
    <Failure>
      <App />
    </Failure>
  </StrictMode>,
);
