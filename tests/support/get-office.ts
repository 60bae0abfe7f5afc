import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/** Where Debian's package libreoffice-calc puts the program. */
const OFFICE = '/usr/bin/soffice';

/** Installs the spreadsheet program where that can be done. Without it one test file is left out, and says so. */
if (!existsSync(OFFICE) && process.getuid?.() === 0 && existsSync('/etc/debian_version')) {
  console.log('No spreadsheet program found: installing the Debian package libreoffice-calc.');
  const how = {
    stdio: 'ignore' as const,
    timeout: 300_000,
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  };
  try {
    execFileSync('apt-get', ['update'], how);
    execFileSync('apt-get', ['install', '-y', '--no-install-recommends', 'libreoffice-calc'], how);
  } catch {
    console.log('It could not be installed.');
  }
}
