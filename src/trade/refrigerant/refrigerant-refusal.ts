/** Why the law does not let a piece of refrigerant work happen: for people, with its source. */
export type RefrigerantRefusal = {
  code:
    | 'certificate_missing'
    | 'certificate_of_other_type'
    | 'nameplate_refrigerant_unknown'
    | 'other_refrigerant'
    | 'a2l_retrofit'
    | 'sale_restricted'
    | 'pressure_before_opening';
  message: string;
  source: string;
};
