import { createRoot } from 'react-dom/client';
import { SCREEN_WORDS } from '../machines/words/screens.ts';
import { connectBridge } from './adapters/bridge.ts';
import { loadKeyLayout } from './adapters/key-names.ts';
import { Station } from './app/station.ts';
import { MessagePage } from './components/message-page.tsx';
import { App } from './screens/app.tsx';
import { CatchBroken } from './screens/catch-broken.tsx';

/** The one place that wires the window: bridge, clock, switches and screens. */
async function start(element: HTMLElement): Promise<void> {
  const root = createRoot(element);
  const bridge = connectBridge(window);
  if (bridge === null) {
    root.render(<MessagePage title={SCREEN_WORDS.noBridgeTitle} text={SCREEN_WORDS.noBridge} />);
    return;
  }
  const station = new Station({
    bridge,
    window,
    newId: () => crypto.randomUUID(),
    keyLayout: await loadKeyLayout(navigator),
  });
  root.render(
    <CatchBroken>
      <App station={station} />
    </CatchBroken>,
  );
}

const element = document.getElementById('station');
if (element === null) throw new Error('the page has no place for the station');
void start(element);
