import { readFile } from 'node:fs/promises';
import { Validator } from '@seriousme/openapi-schema-validator';
import { describe, expect, it } from 'vitest';
import { routes } from '../../src/app.ts';
import { stylesheetPath } from '../../src/page-frame/index.ts';
import { problemsOfRoute } from '../../src/platform/http/describe-route.ts';
import { problemCatalog } from '../../src/platform/http/problem-catalog.ts';
import { access, openAddresses } from './access.ts';
import { buildOpenapi } from './build-openapi.ts';
import { routesOfRouter } from './routes-of-router.ts';

const document = await buildOpenapi();
const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, operation]) => ({ path, method, ...operation })),
);

describe('the interface as it is published', () => {
  it('is the committed one; a wanted change is written down by `npm run openapi`', async () => {
    const file = new URL('./openapi.json', import.meta.url);
    expect(JSON.parse(await readFile(file, 'utf8'))).toEqual(JSON.parse(JSON.stringify(document)));
  });

  it('is valid OpenAPI 3.1', async () => {
    const validator = new Validator();
    const result = await validator.validate(JSON.parse(JSON.stringify(document)));
    expect(result.errors ?? []).toEqual([]);
    expect({ valid: result.valid, version: validator.version }).toEqual({
      valid: true,
      version: '3.1',
    });
  });

  it('names every operation once', () => {
    const names = operations.map(({ operationId }) => operationId);
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(name).toMatch(/^[a-z][a-zA-Z]+$/);
  });

  it.each(operations)(
    'says what $operationId is for, who may use it and what it answers',
    (operation) => {
      expect(operation.summary).toMatch(/^[A-Z]/);
      expect(operation.description).toMatch(/Roles: |Everybody\./);
      expect(operation.tags).toHaveLength(1);
      const statuses = Object.keys(operation.responses).map(Number);
      expect(statuses.filter((status) => status >= 200 && status < 300)).toHaveLength(1);
      expect(statuses).toEqual(expect.arrayContaining([400, 403, 500, 503]));
      // Where everybody may come in, nobody is asked to sign in first.
      if (!operation.description.endsWith('Everybody.')) expect(statuses).toContain(401);
      for (const [status, response] of Object.entries(operation.responses)) {
        if (Number(status) < 400) continue;
        expect(Object.keys(response.content ?? {})).toEqual(['application/problem+json']);
        expect(response.description).toMatch(/^Problem: /);
      }
    },
  );

  // A requirement may list the roles that are needed, and one of several requirements is enough
  // (OpenAPI 3.1.0, Security Requirement Object).
  it.each(operations)('asks for $operationId for one of the roles it is open to', (operation) => {
    const allowed = access[operation.operationId];
    const roles = allowed === 'everybody' ? [] : allowed;
    const byName = (one: object, other: object) =>
      JSON.stringify(one).localeCompare(JSON.stringify(other));
    expect(operation.security.toSorted(byName)).toEqual(
      roles?.map((role) => ({ token: [role] })).toSorted(byName),
    );
  });

  it.each(routes.map((route) => [route.operationId, route] as const))(
    'lists for %s exactly the problems that the route lists',
    (operationId, route) => {
      const operation = operations.find((each) => each.operationId === operationId);
      const documented = Object.entries(operation?.responses ?? {})
        .filter(([status]) => Number(status) >= 400)
        .flatMap(([status, { description }]) =>
          description
            .replace('Problem: ', '')
            .split(', ')
            .map((slug) => `${slug} ${status}`),
        );
      const promised = problemsOfRoute(route).map(
        (slug) => `${slug} ${problemCatalog[slug].status}`,
      );
      expect(documented.sort()).toEqual(promised.sort());
    },
  );

  it('asks for the headers that the mount asks for', () => {
    for (const route of routes) {
      const operation = operations.find(({ operationId }) => operationId === route.operationId);
      const headers = (operation?.parameters ?? [])
        .filter((parameter) => parameter.in === 'header' && parameter.required)
        .map(({ name }) => name);
      expect(headers, route.operationId).toEqual([
        ...(route.kind === 'act' && route.method === 'POST' ? ['idempotency-key'] : []),
        ...(route.kind === 'act' && route.ifMatch ? ['if-match'] : []),
      ]);
    }
  });
});

describe('router and document are the same', () => {
  it('holds for every address, but for the few that are hidden', async () => {
    const routed = await routesOfRouter();
    const documented = operations.map(({ method, path }) => `${method.toUpperCase()} ${path}`);
    const undocumented = routed.filter((each) => !documented.includes(each));
    expect(documented.filter((each) => !routed.includes(each))).toEqual([]);
    expect(undocumented.filter((each) => !each.startsWith('GET /docs'))).toEqual([
      'GET /',
      'GET /.well-known/jwks.json',
      'GET /account',
      'GET /account/password',
      'GET /account/second-factor',
      'GET /account/second-factor/begin',
      'GET /account/second-factor/confirm',
      'GET /account/second-factor/remove',
      'GET /account/sessions/{sessionId}',
      'GET /account/sessions/{sessionId}/end',
      'GET /calendar/{token}.ics',
      'GET /favicon.ico',
      'GET /healthz',
      `GET ${stylesheetPath}`,
      'GET /paper',
      'GET /paper/{hash}',
      'GET /paper/{hash}/',
      'GET /paper/{hash}/link',
      'GET /problems',
      'GET /problems/{slug}',
      'GET /q/{token}',
      'GET /q/{token}/',
      'GET /readyz',
      'GET /set-password',
      'GET /set-password/{token}',
      'GET /sign-in',
      'GET /verify',
      'GET /your-quote',
      'GET /your-quote/{number}',
      'GET /your-quote/{number}/',
      'GET /your-quote/{number}/accept',
      'GET /your-quote/{number}/cancel',
      'GET /your-quote/{number}/closed',
      'GET /your-quote/{number}/decline',
      'GET /your-quote/{number}/leave',
      'GET /your-quote/{number}/paper',
      'GET /your-quote/{number}/receipt',
      'POST /account/password',
      'POST /account/second-factor/begin',
      'POST /account/second-factor/confirm',
      'POST /account/second-factor/remove',
      'POST /account/sessions/{sessionId}/end',
      'POST /account/sign-out',
      'POST /account/sign-out-everywhere',
      'POST /paper/{hash}/link',
      'POST /set-password',
      'POST /sign-in',
      'POST /verify',
      'POST /your-quote/{number}/accept',
      'POST /your-quote/{number}/cancel',
      'POST /your-quote/{number}/decline',
      'POST /your-quote/{number}/leave',
    ]);
    expect(openAddresses).toContain('/docs');
  });
});
