/** For how many days after its closing the same trouble reopens a ticket. */
export const callbackDays = 30;
