import { execFileSync, type SpawnSyncReturns, spawnSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';

/** What a service or an operator finds in the environment of a fresh system. */
const plainEnvironment = { PATH: '/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin', HOME: '/root' };

/** Why no system can be made and entered here; null = it can. */
export function whyNoSystem(): string | null {
  if (process.getuid?.() !== 0) return 'not root';
  if (spawnSync('chroot', ['/', 'true']).status !== 0) return 'chroot is forbidden';
  for (const program of ['debootstrap', 'strace', 'systemd-analyze']) {
    if (spawnSync('sh', ['-c', `command -v ${program}`]).status !== 0) return `${program} is not installed`;
  }
  return mirror() === null ? 'the packages of this system come from no mirror' : null;
}

/** The release of this system, since the driver was compiled on it, and where it has its packages from. */
const codename = (): string => /^VERSION_CODENAME=(\S+)/m.exec(readFileSync('/etc/os-release', 'utf8'))?.[1] ?? '';

function mirror(): string | null {
  const format = '$(REPO_URI) $(CODENAME) $(COMPONENT) $(CREATED_BY)';
  const asked = spawnSync('apt-get', ['indextargets', '--format', format], { encoding: 'utf8' });
  const wanted = `${codename()} main Packages`;
  const line = (asked.stdout ?? '').split('\n').find((one) => one.endsWith(` ${wanted}`));
  return line?.split(' ')[0] ?? null;
}

/** Where this system's packages come through, if through anything: debootstrap does not look there by itself. */
function proxy(): Readonly<Record<string, string>> {
  const asked = spawnSync('apt-config', ['dump', '--format', '%v', 'Acquire::http::Proxy'], { encoding: 'utf8' });
  const address = (asked.stdout ?? '').trim();
  return address.startsWith('http') ? { http_proxy: address } : {};
}

/** A Debian with nothing in it but what every Debian has, and this machine's Node. */
export class SmallSystem {
  readonly root = mkdtempSync(join(tmpdir(), 'neckline-system-'));

  /** Fetches and unpacks it: half a minute. Throws with the end of its log. */
  make(): void {
    // A temporary folder is its maker's only; the root of a system is everybody's.
    chmodSync(this.root, 0o755);
    // Nobody needs it after a power cut: not waiting for the disk saves half of the time.
    mkdirSync(this.at('/etc/dpkg/dpkg.cfg.d'), { recursive: true });
    writeFileSync(this.at('/etc/dpkg/dpkg.cfg.d/unsafe'), 'force-unsafe-io\n');
    const words = ['--variant=minbase', codename(), this.root, mirror() ?? ''];
    const env = { ...process.env, ...proxy() };
    const made = spawnSync('debootstrap', words, { encoding: 'utf8', maxBuffer: 2 ** 26, env });
    if (made.status !== 0) throw new Error(`debootstrap: ${(made.stdout + made.stderr).slice(-800)}`);
    const node = realpathSync(process.execPath);
    this.copyIn(node, '/usr/bin/node');
    for (const [library] of execFileSync('ldd', [node], { encoding: 'utf8' }).matchAll(/\/\S+\.so\S*/g)) {
      if (!existsSync(this.at(library))) this.copyIn(realpathSync(library), library);
    }
  }

  at(path: string): string {
    return join(this.root, path);
  }

  copyIn(file: string, path: string): void {
    mkdirSync(dirname(this.at(path)), { recursive: true });
    copyFileSync(file, this.at(path));
  }

  /** Runs a command in it as root. */
  run(...words: readonly string[]): SpawnSyncReturns<string> {
    return this.answers('', ...words);
  }

  /** The same, with what its user types. */
  answers(typed: string, ...words: readonly string[]): SpawnSyncReturns<string> {
    return spawnSync('chroot', [this.root, ...words], { encoding: 'utf8', env: plainEnvironment, input: typed });
  }

  remove(): void {
    rmSync(this.root, { recursive: true, force: true });
  }
}
