export { attachEmbedded } from './attach-embedded.ts';
export type { DatabaseRole, EmbeddedConnection } from './connection-to.ts';
export { EmbeddedError, type EmbeddedErrorCode } from './embedded-error.ts';
export { findRoom } from './find-room.ts';
export { type EmbeddedServer, startEmbedded } from './start-embedded.ts';
