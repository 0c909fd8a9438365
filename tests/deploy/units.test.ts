import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const unit = (name: string): readonly string[] =>
  readFileSync(new URL(`../../deploy/${name}`, import.meta.url), 'utf8').split('\n');

describe('the systemd units', () => {
  it.each(['neckline.service', 'neckline-backup.service'])(
    '%s writes no picture of its memory, and may do no more than it needs',
    (name) => {
      const lines = unit(name);
      for (const line of [
        'LimitCORE=0',
        'UMask=0077',
        'User=neckline',
        'NoNewPrivileges=yes',
        'CapabilityBoundingSet=',
        'ProtectSystem=strict',
        'ProtectHome=yes',
        'ProtectProc=invisible',
        'PrivateTmp=yes',
        'PrivateDevices=yes',
        'RestrictSUIDSGID=yes',
        'RestrictNamespaces=yes',
        'LockPersonality=yes',
        'SystemCallFilter=@system-service',
      ]) {
        expect(lines).toContain(line);
      }
    },
  );

  it('the backup works beside the data and puts its files elsewhere', () => {
    const lines = unit('neckline-backup.service');
    expect(lines).toContain('ReadWritePaths=/var/lib/neckline /var/backups/neckline');
    expect(lines).toContain('PrivateNetwork=yes');
  });
});
