/** A paper that contradicts itself: it must never reach a customer. */
export class PaperRefused extends Error {
  override readonly name = 'PaperRefused';
}
