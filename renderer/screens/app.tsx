import { useMachine } from '@xstate/react';
import { type ReactElement, useCallback, useEffect, useMemo } from 'react';
import { fromPromise } from 'xstate';
import { keyName, SCREEN_WORDS } from '../../machines/words/screens.ts';
import { WINDOW_WORDS } from '../../machines/words/windows.ts';
import { listenForOtherWindow } from '../adapters/floor-keys.ts';
import { appMachine, type OpenRequest } from '../app/app-machine.ts';
import { loadStart, type Station } from '../app/station.ts';
import { MessagePage } from '../components/message-page.tsx';
import { FirstRun } from './first-run.tsx';
import { Floor } from './floor.tsx';
import { WithHelp } from './help.tsx';
import { Debrief, WalkThrough } from './later-screens.tsx';
import { Ledger } from './ledger.tsx';
import { SetUp } from './set-up.tsx';
import { Waiting } from './waiting.tsx';

/** The four screens, one at a time. */
export function App({ station }: { station: Station }): ReactElement {
  const machine = useMemo(() => provide(station), [station]);
  const [state, send] = useMachine(machine, { input: { role: station.role } });
  const nameOfKey = useCallback((code: string) => keyName(code, station.keyLayout(code)), [station]);
  const { context } = state;
  const screen = screenOf(state.value);
  const savesPaper =
    context.facts?.shell === 'electron'
      ? { onSavePaper: (fileName: string) => station.bridge.savePaper(fileName) }
      : {};
  useEffect(() => {
    const shown = station.role === 'learners' ? WINDOW_WORDS.waitingTitle : SCREEN_WORDS[screen];
    document.title = `${SCREEN_WORDS.product}: ${shown}`;
  }, [screen, station]);
  useEffect(() => station.onDrillBegun(() => send({ type: 'drill.begun' })), [station, send]);
  useEffect(() => listenForOtherWindow(window, station.openOther), [station]);
  if (state.matches('floor') && station.session !== null) {
    return (
      <Floor
        session={station.session}
        sound={station.sound}
        openedFor={station.role}
        nameOfKey={nameOfKey}
        onOtherWindow={station.openOther}
        onClosed={(drillId) => send({ type: 'drill.closed', drillId })}
        onLeft={(problem) => send({ type: 'drill.left', problem })}
      />
    );
  }
  const walk = (onLeave: () => void) => (
    <WalkThrough sound={station.sound} nameOfKey={nameOfKey} onLeave={onLeave} />
  );
  if (state.matches('firstRun')) {
    return (
      <FirstRun
        walk={context.settings === null ? walk : null}
        onRead={() => station.noteCautionsRead(context.settings)}
        onDone={(settings) => send({ type: 'cautions.read', settings })}
      />
    );
  }
  if (state.matches('debrief') && context.text !== null) {
    const { text } = context;
    return (
      <WithHelp key="debrief" page="debrief" walk={walk}>
        <Debrief
          text={text}
          onRemark={(remarks) => station.bridge.remarkDrill(text.drillId, remarks)}
          {...savesPaper}
          standards={station.standards}
          onLeave={() => send({ type: 'debrief.left' })}
        />
      </WithHelp>
    );
  }
  if (state.matches('setUp') || state.matches('opening')) {
    return (
      <WithHelp key="setUp" page="setUp" walk={walk}>
        <SetUp
          start={context}
          isOpening={state.matches('opening')}
          switches={station.switches}
          sound={station.sound}
          plans={station.plans}
          classes={station.classes}
          {...savesPaper}
          nameOfKey={nameOfKey}
          onStart={(request) => send({ type: 'drill.start', ...request })}
          onRemember={(settings) => void station.bridge.saveSettings(settings)}
          onDebrief={(drillId) => send({ type: 'debrief.open', drillId })}
          onLedger={() => {
            station.ledger.begin();
            send({ type: 'ledger.open' });
          }}
          onOtherWindow={station.openOther}
        />
      </WithHelp>
    );
  }
  if (state.matches('ledger')) {
    return (
      <WithHelp key="ledger" page="ledger" walk={walk}>
        <Ledger
          shelf={station.ledger}
          plans={station.plans}
          problem={context.problem}
          onDebrief={(drillId) => send({ type: 'debrief.open', drillId })}
          onLeave={() => send({ type: 'ledger.left' })}
        />
      </WithHelp>
    );
  }
  if (state.matches('waiting')) {
    return (
      <WithHelp key="waiting" page="learners">
        <Waiting onOtherWindow={station.openOther} />
      </WithHelp>
    );
  }
  return <MessagePage title={SCREEN_WORDS.product} text={SCREEN_WORDS.oneMoment} />;
}

function provide(station: Station) {
  return appMachine.provide({
    actors: {
      joinDrill: fromPromise(() => station.join()),
      loadStation: fromPromise(async () => {
        const [start] = await Promise.all([loadStart(station.bridge), station.plans.load()]);
        return start;
      }),
      openDrill: fromPromise(({ input }: { input: OpenRequest }) =>
        station.open(input.setup, input.settings),
      ),
      readDrill: fromPromise(({ input }: { input: { drillId: string } }) =>
        station.bridge.readDrill(input.drillId),
      ),
    },
    actions: { leaveDrill: () => station.leave() },
  });
}

function screenOf(value: string): 'setUp' | 'floor' | 'debrief' | 'ledger' {
  return value === 'floor' || value === 'debrief' || value === 'ledger' ? value : 'setUp';
}
