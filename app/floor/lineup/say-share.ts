// Shares of the day in words.

/** Thousandths of the day's marks: 0.4 %, 12 %. */
export const sayShare = (perMille: number): string =>
  perMille >= 100 ? `${Math.round(perMille / 10)} %` : `${perMille / 10} %`
