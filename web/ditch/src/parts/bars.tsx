// The two bars as they may stand now, against the pipe as it was: a picture of the gap, to scale.
export function Bars({ gap_m, open_m, last_m }: { gap_m: number; open_m: number; last_m: number | undefined }) {
  const height = 96;
  const half = (metres: number) => ((height / 2) * Math.min(metres, open_m)) / open_m;
  const middle = height / 2 + 12;
  return (
    <svg class="bars-now" viewBox={`0 0 360 ${height + 24}`} aria-hidden="true">
      <circle cx="180" cy={middle} r={height / 2} />
      <rect x="60" y={middle - half(gap_m) - 12} width="240" height="12" />
      <rect x="60" y={middle + half(gap_m)} width="240" height="12" />
      {last_m !== undefined && (
        <path d={`M20 ${middle - half(last_m)}H52M20 ${middle + half(last_m)}H52M36 ${middle - half(last_m)}V${middle + half(last_m)}`} />
      )}
    </svg>
  );
}
