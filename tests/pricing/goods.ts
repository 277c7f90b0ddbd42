/** Sold by the foot out of a pack of fifty. */
export const wire = {
  code: 'wire',
  name: 'Thermostat wire',
  unit: '[ft_i]' as const,
  quantity: '2',
  packCostCents: 2500,
  packQuantity: '50',
};

/** What a reset uses up. */
export const fuse = {
  code: 'fuse_3a',
  name: 'Fuse 3 A',
  unitCostCents: 100,
  quantity: 1,
  underManufacturerWarranty: false,
};
