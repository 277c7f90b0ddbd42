import { defineConfig } from 'prisma/config';

// `prisma generate` never runs the native schema engine, but the CLI insists on finding one and
// would download it. Any executable satisfies the check, so no network is needed.
process.env['PRISMA_SCHEMA_ENGINE_BINARY'] ??= process.execPath;

export default defineConfig({
  schema: 'prisma/schema.prisma',
  migrations: { path: 'prisma/migrations' },
});
