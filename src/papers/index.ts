export { fileAnswer } from './file-answer.ts';
export { fileOf, type PaperContext, type StoredFile } from './file-of.ts';
export type { Frozen } from './frozen.ts';
export { createPaperDesk, type PaperDesk, type PaperDeskOptions } from './paper-desk.ts';
export { type PublishedOf, publishPaper } from './publish-paper.ts';
export { readPaper } from './read-paper.ts';
export { paperKeys, registerKey } from './register-key.ts';
export { paperRoutes } from './routes.ts';
