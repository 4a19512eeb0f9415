// The browser tests need a Chromium, and Poppler to turn a PDF into images. Where one is not installed and this is
// Debian or Ubuntu as root, install Debian's.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const CHROMIUM = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const named = process.env.ANTIPHON_CHROMIUM;

if (named !== undefined && !existsSync(named))
  fail(`ANTIPHON_CHROMIUM names ${named}, which does not exist.`);
const missing = [];
if (named === undefined && !CHROMIUM.some((place) => existsSync(place))) missing.push('chromium');
if (spawnSync('pdftoppm', ['-v']).error !== undefined) missing.push('poppler-utils');
if (missing.length > 0) install();

function install() {
  const names = missing.join(' and ');
  const isDebian = existsSync('/usr/bin/apt-get');
  if (!isDebian || process.getuid?.() !== 0) {
    fail(
      `The browser tests need ${names}: install them (on Debian: apt-get install ${missing.join(' ')}). A Chromium elsewhere can be named in ANTIPHON_CHROMIUM.`,
    );
  }
  console.log(`Not here: installing Debian’s ${names} for the browser tests.`);
  const quiet = {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  };
  spawnSync('apt-get', ['update', '-q'], quiet);
  const result = spawnSync('apt-get', ['install', '-y', '-q', '--no-install-recommends', ...missing], quiet);
  if (result.status !== 0) fail(`Debian’s ${names} could not be installed.`);
}

function fail(reason) {
  console.error(reason);
  process.exit(1);
}
