// The sign of the house: a cliff face and the broken stones at its foot, one of them full.

/** The sign alone; the word Talus stands beside it where there is room. */
export function Sign({ size = 28 }: { readonly size?: number }) {
  return (
    <svg className="sign" width={size} height={size} viewBox="0 0 28 28" aria-hidden="true">
      <path d="M2 25.500 8.500 3h5.200l2.600 8.300" />
      <path className="pen-full" d="M7 25.500l1.900-5.200 4.300-1 2.800 2.600-.6 3.600z" />
      <path d="M12 16.800l3.200-3.500 4 .7.700 4.200-3.400 2.200z" />
      <path d="M18 25.500l1.200-4 4.300-1 2.700 5z" />
    </svg>
  )
}
