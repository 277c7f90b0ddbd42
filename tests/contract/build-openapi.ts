import { offlineApp } from './offline-app.ts';

/** The OpenAPI document as `/docs/json` gives it. */
export async function buildOpenapi(): Promise<OpenapiDocument> {
  const app = await offlineApp();
  const document = app.swagger() as unknown as OpenapiDocument;
  await app.close();
  return document;
}

/** What the tests look at. */
export interface OpenapiDocument {
  openapi: string;
  paths: Record<string, Record<string, Operation>>;
  components: { schemas: Record<string, unknown> };
}

export interface Operation {
  operationId: string;
  summary: string;
  description: string;
  tags: string[];
  security: { token: string[] }[];
  parameters?: { name: string; in: string; required: boolean }[];
  responses: Record<string, { description: string; content?: Record<string, unknown> }>;
}
