import { Howl, Howler } from 'howler';
import { createRoot } from 'react-dom/client';
import { roleInAddress } from '../electron/contract.ts';
import { SCREEN_WORDS } from '../machines/words/screens.ts';
import { connectBridge } from './adapters/bridge.ts';
import { loadKeyLayout } from './adapters/key-names.ts';
import { Station } from './app/station.ts';
import { StationSound } from './app/station-sound.ts';
import { MessagePage } from './components/message-page.tsx';
import { App } from './screens/app.tsx';
import { CatchBroken } from './screens/catch-broken.tsx';
import { loadDebrief } from './screens/later-screens.tsx';
import { makeCountPlayer } from './sound/count-player.ts';
import { readCatalogue } from './sound/sound-catalogue.ts';

/** The one place that wires the window: bridge, sound, clock, switches and screens. */
async function start(element: HTMLElement): Promise<void> {
  const root = createRoot(element);
  const windowId = crypto.randomUUID();
  const bridge = connectBridge(window, windowId);
  if (bridge === null) {
    root.render(<MessagePage title={SCREEN_WORDS.noBridgeTitle} text={SCREEN_WORDS.noBridge} />);
    return;
  }
  const station = new Station({
    bridge,
    window,
    windowId,
    role: roleInAddress(window.location.search),
    keyLayout: await loadKeyLayout(navigator),
    sound: makeSound(),
  });
  void station.sound.load();
  root.render(
    <CatchBroken>
      <App station={station} />
    </CatchBroken>,
  );
  // Before it is wanted: a drill's end is no time to wait. What is wrong with it is said when it is opened.
  loadDebrief().catch(() => undefined);
}

function makeSound(): StationSound {
  const pageNow = () => performance.now();
  return new StationSound({
    pageNow,
    makePlayer: (hooks) =>
      makeCountPlayer({
        ...hooks,
        howler: { Howler, Howl },
        catalogue: readCatalogue(),
        pageNow,
        wakeEvery: (ms, wake) => {
          const timer = setInterval(wake, ms);
          return () => clearInterval(timer);
        },
        gestures: window,
        devices: navigator.mediaDevices,
      }),
  });
}

const element = document.getElementById('station');
if (element === null) throw new Error('the page has no place for the station');
void start(element);
