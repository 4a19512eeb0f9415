// The browser tests need a Chromium. Where none is installed and this is Debian or Ubuntu as root, install Debian's.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
const named = process.env.ANTIPHON_CHROMIUM;

if (named !== undefined && !existsSync(named))
  fail(`ANTIPHON_CHROMIUM names ${named}, which does not exist.`);
if (named === undefined && !PLACES.some((place) => existsSync(place))) install();

function install() {
  const isDebian = existsSync('/usr/bin/apt-get');
  if (!isDebian || process.getuid?.() !== 0) {
    fail(
      'The browser tests need Chromium: install it (on Debian: apt-get install chromium), or name one in ANTIPHON_CHROMIUM.',
    );
  }
  console.log('No Chromium here: installing Debian’s chromium for the browser tests.');
  const quiet = {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  };
  spawnSync('apt-get', ['update', '-q'], quiet);
  const result = spawnSync('apt-get', ['install', '-y', '-q', '--no-install-recommends', 'chromium'], quiet);
  if (result.status !== 0) fail('Debian’s chromium could not be installed.');
}

function fail(reason) {
  console.error(reason);
  process.exit(1);
}
