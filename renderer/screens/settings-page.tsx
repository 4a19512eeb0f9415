import type { ReactElement } from 'react';
import type { StationSettings } from '../../electron/contract.ts';
import { SETTINGS_WORDS } from '../../machines/words/settings-words.ts';
import { allAsAtFirst, settingRows } from '../app/settings-table.ts';

type SettingsPageProps = {
  settings: StationSettings;
  nameOfKey: (code: string) => string;
  onChange: (changes: Partial<StationSettings>) => void;
  onBack: () => void;
};

/** Every setting in one place, with what it was at first. */
export function SettingsPage({ settings, nameOfKey, onChange, onBack }: SettingsPageProps): ReactElement {
  const rows = settingRows(settings, nameOfKey);
  const hasChanged = rows.some(({ reset }) => reset !== null);
  return (
    <main className="all-settings">
      <header>
        <h1>{SETTINGS_WORDS.title}</h1>
        <p>{SETTINGS_WORDS.intro}</p>
        <p>
          {/* biome-ignore lint/a11y/noAutofocus: the page has just been opened, and its way back comes first */}
          <button type="button" className="plain" autoFocus onClick={onBack}>
            {SETTINGS_WORDS.back}
          </button>
        </p>
      </header>
      <table>
        <thead>
          <tr>
            <th scope="col">{SETTINGS_WORDS.setting}</th>
            <th scope="col">{SETTINGS_WORDS.present}</th>
            <th scope="col">{SETTINGS_WORDS.first}</th>
            <th scope="col">{SETTINGS_WORDS.where}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ key, label, present, first, place, reset }) => (
            <tr key={key}>
              <th scope="row">{label}</th>
              <td data-label={SETTINGS_WORDS.present}>
                {present}{' '}
                {reset === null ? null : (
                  <button
                    type="button"
                    className="plain"
                    aria-label={SETTINGS_WORDS.resetOne(label)}
                    onClick={() => onChange(reset)}
                  >
                    {SETTINGS_WORDS.reset}
                  </button>
                )}
              </td>
              <td data-label={SETTINGS_WORDS.first}>{first}</td>
              <td data-label={SETTINGS_WORDS.where}>{place}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        <button
          type="button"
          className="plain"
          aria-disabled={!hasChanged}
          onClick={() => onChange(allAsAtFirst(settings, nameOfKey))}
        >
          {SETTINGS_WORDS.resetAll}
        </button>
      </p>
      <p className="note">{SETTINGS_WORDS.resetNote}</p>
    </main>
  );
}
