import { existsSync, readFileSync } from 'node:fs';
import { DockerfileParser } from 'dockerfile-ast';
import { validate } from 'dockerfile-utils';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { settingNames } from '../../src/config.ts';

const root = new URL('../../', import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, root), 'utf8');
const files = ['deploy/Dockerfile', 'deploy/kannel.Dockerfile'];

/** Instructions of a container file as `WORD arguments`, the lines of one joined. */
const instructionsOf = (file: string): readonly string[] =>
  DockerfileParser.parse(read(file))
    .getInstructions()
    .map((one) => one.getTextContent().replace(/\s*\\\n\s*/g, ' '));

/** Instructions of the stage that becomes the image. */
function lastStage(file: string): readonly string[] {
  const all = instructionsOf(file);
  return all.slice(all.findLastIndex((one) => one.startsWith('FROM ')));
}
const valuesOf = (stage: readonly string[], word: string): readonly string[] =>
  stage.filter((one) => one.startsWith(`${word} `)).map((one) => one.slice(word.length + 1));

describe('the container files', () => {
  it.each(files)('%s is written as the format asks', (file) => {
    expect(validate(read(file)).map(({ message }) => message)).toEqual([]);
    // The linter is one that finds something.
    expect(validate('FROM node\nEXPOSE many\n')).not.toEqual([]);
  });

  it.each(files)('%s copies what exists, from a base of a named version', (file) => {
    const all = instructionsOf(file);
    const stages = valuesOf(all, 'FROM').map((one) => / AS (\w+)$/.exec(one)?.[1]);
    for (const base of valuesOf(all, 'FROM')) expect(base).toMatch(/^[a-z]+:(\d+-)?bookworm-slim( AS \w+)?$/);
    const ignored = read('.dockerignore').trim().split('\n');
    for (const copy of valuesOf(all, 'COPY')) {
      const [, stage] = /^--from=(\w+) /.exec(copy) ?? [];
      if (stage !== undefined) expect(stages).toContain(stage);
      else
        for (const source of copy.split(' ').slice(0, -1)) {
          expect(existsSync(new URL(source, root)), source).toBe(true);
          expect(ignored).not.toContain(source);
        }
    }
  });

  it.each(files)('%s ends as somebody who is not root, without what compiles', (file) => {
    const stage = lastStage(file);
    const user = valuesOf(stage, 'USER').at(-1);
    expect(user).toMatch(/^(kannel|[1-9]\d{3,}:[1-9]\d{3,})$/);
    expect(valuesOf(stage, 'RUN').join('\n')).not.toMatch(/\b(make|g\+\+|gcc|python3|npm|git|curl|wget)\b/);
    for (const run of valuesOf(instructionsOf(file), 'RUN').filter((one) => one.includes('apt-get install'))) {
      expect(run).toMatch(
        /apt-get update && apt-get install -y --no-install-recommends .* rm -rf \/var\/lib\/apt\/lists\/\*/,
      );
    }
  });

  it('keeps what must last outside the image, on the port of the line, and asks /health whether it answers', () => {
    const stage = lastStage('deploy/Dockerfile');
    const kept: readonly string[] = JSON.parse(valuesOf(stage, 'VOLUME')[0]!);
    const set = Object.fromEntries(
      [...valuesOf(stage, 'ENV')[0]!.matchAll(/(\w+)=(\S+)/g)].map(([, name, value]) => [name!, value!]),
    );
    expect(kept).toContain(set.NECKLINE_DATA);
    expect(kept).toContain(set.NECKLINE_KEY_FILE!.replace(/\/[^/]+$/, ''));
    for (const name of Object.keys(set).filter((one) => one !== 'NODE_ENV')) expect(settingNames).toContain(name);
    expect(valuesOf(stage, 'EXPOSE')).toEqual(['8099']);
    expect(read('deploy/neckline.env.example')).toContain('NECKLINE_HTTP_PORT=8099');
    expect(valuesOf(stage, 'HEALTHCHECK')[0]).toMatch(/127\.0\.0\.1.*8099.*\/health/s);
    expect(valuesOf(stage, 'ENTRYPOINT')).toEqual(['["node", "dist/main.js"]']);
  });

  it('is built with the same major Node as is asked for and tested with', () => {
    const { engines } = JSON.parse(read('package.json'));
    const majors = valuesOf(instructionsOf('deploy/Dockerfile'), 'FROM').map((one) => /^node:(\d+)-/.exec(one)?.[1]);
    for (const major of majors) expect(engines.node).toMatch(new RegExp(`^>=${major}\\b`));
  });
});

interface Service {
  readonly build?: { readonly context: string; readonly dockerfile: string };
  readonly image: string;
  readonly ports?: readonly string[];
  readonly network_mode?: string;
  readonly volumes?: readonly string[];
  readonly depends_on?: readonly string[];
  readonly secrets?: readonly string[];
  readonly profiles?: readonly string[];
  readonly restart: string;
  readonly privileged?: boolean;
  readonly cap_drop?: readonly string[];
}

describe('deploy/compose.yaml', () => {
  const compose: {
    readonly services: Readonly<Record<string, Service>>;
    readonly volumes: Readonly<Record<string, unknown>>;
    readonly secrets: Readonly<Record<string, unknown>>;
  } = parse(read('deploy/compose.yaml'), { uniqueKeys: true });
  const services = Object.entries(compose.services);

  it('has the line, both programs of the gateway, and PostgreSQL for who asks for it', () => {
    expect(Object.keys(compose.services).sort()).toEqual(['bearerbox', 'line', 'loopback', 'postgres', 'smsbox']);
    expect(services.filter(([, one]) => one.profiles).map(([name]) => name)).toEqual(['postgres']);
  });

  it.each(services)(
    '%s comes back by itself, opens no port of the machine and has no more rights than it needs',
    (name, one) => {
      expect(one.restart).toBe('unless-stopped');
      expect(one.ports ?? []).toEqual([]);
      expect(one.privileged ?? false).toBe(false);
      // PostgreSQL's image begins as root and gives that up by itself.
      if (name !== 'postgres') {
        expect(one).toMatchObject({ read_only: true, cap_drop: ['ALL'], security_opt: ['no-new-privileges:true'] });
      }
      expect(one.image).not.toMatch(/:latest$/);
    },
  );

  it.each(services)('%s names what exists', (_name, one) => {
    if (one.build) expect(existsSync(new URL(one.build.dockerfile, root)), one.build.dockerfile).toBe(true);
    else
      expect(
        services.some(([, other]) => other.image === one.image && other.build) || /:(\d|bookworm)/.test(one.image),
      ).toBe(true);
    for (const other of one.depends_on ?? []) expect(compose.services).toHaveProperty(other);
    for (const secret of one.secrets ?? []) expect(compose.secrets).toHaveProperty(secret);
    const shared = /^service:(\w+)$/.exec(one.network_mode ?? '')?.[1];
    if (shared) expect(compose.services).toHaveProperty(shared);
    for (const volume of one.volumes ?? []) {
      const [source, place] = volume.split(':');
      expect(place).toMatch(/^\//);
      if (!source!.startsWith('/')) expect(compose.volumes).toHaveProperty(source!);
      else expect(volume).toMatch(/:ro$/);
    }
  });

  it('keeps each volume of the line’s image under a name', () => {
    const kept: readonly string[] = JSON.parse(valuesOf(lastStage('deploy/Dockerfile'), 'VOLUME')[0]!);
    const named = compose.services
      .line!.volumes!.filter((one) => !one.startsWith('/') && !one.endsWith(':ro'))
      .map((one) => one.split(':')[1]!);
    expect([...named].sort()).toEqual([...kept].sort());
    expect(Object.keys(compose.volumes).sort()).toEqual(
      [
        ...new Set(
          services
            .flatMap(([, one]) => one.volumes ?? [])
            .filter((one) => !one.startsWith('/'))
            .map((one) => one.split(':')[0]!),
        ),
      ].sort(),
    );
  });

  it('lets the gateway speak with the line on loopback, where its own file has it', () => {
    for (const name of ['line', 'bearerbox', 'smsbox', 'postgres']) {
      expect(compose.services[name]!.network_mode).toBe('service:loopback');
    }
    expect(read('deploy/kannel.conf')).toContain('@127.0.0.1:8099/sms/in');
  });
});
