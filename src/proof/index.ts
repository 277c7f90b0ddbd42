export { createVerifier, type Verifier } from './create-verifier.ts';
export { type DrawnPages, drawToSeal } from './draw-to-seal.ts';
export { type KeySet, KeySetRefused, keySetText, readKeySet, writeKeySet } from './key-set.ts';
export {
  type LoadedPaperKey,
  loadPaperKey,
  type PaperKey,
  PaperKeyRefused,
} from './load-paper-key.ts';
export { PAPER_BYTES_MAX } from './paper-bytes-max.ts';
export { paperName } from './paper-name.ts';
export type * from './proof-verdict.ts';
export { type PublicPaperKey, publicPaperKey } from './public-key.ts';
export { type SealPaperOptions, sealPaper } from './seal-paper.ts';
export { type ToldVerdict, tellVerdict } from './tell-verdict.ts';
export { verifyBeside } from './verify-beside.ts';
