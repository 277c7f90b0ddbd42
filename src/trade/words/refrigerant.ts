import { z } from 'zod';

/** As printed on the plate: R-22, R-410A, R-1234ze(E). */
export const refrigerantSchema = z.string().regex(/^R-?[0-9A-Za-z()-]{2,16}$/, {
  error: 'a refrigerant such as R-410A',
});
