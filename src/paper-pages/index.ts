export { answersLostReaders } from './answers-lost-readers.ts';
export { servesPaperPages } from './paper-pages.ts';
