import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import './theme.css';
import './layout.css';
import './panels.css';
import { BLANK } from './store/blank.ts';
import { SAMPLES } from './store/samples.ts';
import { startSession } from './store/session.ts';
import { useView } from './store/view.ts';
import { keepSure } from './sure/store.ts';
import { keepPlanning, warmUp } from './worker/client.ts';

warmUp();
void import('./scene/Water.tsx');

const place = document.getElementById('app');
if (place === null) throw new Error('the page has no place for the app');
document.documentElement.dataset.theme = useView.getState().theme;
void startSession(SAMPLES[0]?.document ?? BLANK).then(() => {
  keepPlanning();
  keepSure();
});
createRoot(place).render(<App />);
