// What the animal can choose: for every UVI, the share of the places it can reach that have no more than that.
import { memo } from 'react';
import type { AnimalJudgement } from '../api/schema';
import { showValue } from '../parts/quantities';
import { axisTicks, placeOnAxis } from '../parts/rangeAxis';
import { Nothing } from '../parts/Waiting';
import classes from './ReachProfile.module.css';

const box = { left: 44, right: 316, top: 10, bottom: 150 };
const x = (uvi: number) => box.left + placeOnAxis(uvi) * (box.right - box.left);
const y = (share: number) => box.bottom - share * (box.bottom - box.top);
const percent = (share: number) => `${Math.round(100 * share)} %`;

export const ReachProfile = memo(function ReachProfile({ animal }: { animal: AnimalJudgement }) {
  const { reach, band } = animal;
  const points = Object.entries(reach.quantiles)
    .map(([share, uvi]) => ({ share: Number(share), uvi }))
    .sort((a, b) => a.share - b.share);
  if (points.length === 0) return <Nothing>There is no place this animal can reach.</Nothing>;
  const words = points
    .map(({ share, uvi }) => `${percent(share)} at or below ${showValue('uvi', uvi)}`)
    .join('; ');
  return (
    <>
      <p className={classes.words}>
        {band && <>{percent(reach.share_in_band)} of its reach lies in the band, </>}
        {percent(reach.share_in_shade)} in the shade.
      </p>
      <svg
        className={classes.profile}
        viewBox="0 0 330 186"
        role="img"
        aria-label={`Share of the reach by UVI: ${words}.`}
      >
        {band && (
          <rect
            className={classes.band}
            x={x(band[0])}
            width={x(band[1]) - x(band[0])}
            y={box.top}
            height={box.bottom - box.top}
          />
        )}
        {[0, 0.5, 1].map((share) => (
          <g key={share}>
            <line className={classes.grid} x1={box.left} x2={box.right} y1={y(share)} y2={y(share)} />
            <text className={classes.label} x={box.left - 6} y={y(share) + 4} textAnchor="end">
              {percent(share)}
            </text>
          </g>
        ))}
        {axisTicks.map((tick) => (
          <g key={tick}>
            <line className={classes.grid} x1={x(tick)} x2={x(tick)} y1={box.bottom} y2={box.bottom + 4} />
            <text className={classes.label} x={x(tick)} y={box.bottom + 17} textAnchor="middle">
              {tick}
            </text>
          </g>
        ))}
        <text className={classes.label} x={box.right} y={box.bottom + 33} textAnchor="end">
          UVI at back height
        </text>
        <polyline
          className={classes.curve}
          points={points.map(({ share, uvi }) => `${x(uvi)},${y(share)}`).join(' ')}
        />
        {points.map(({ share, uvi }) => (
          <circle key={share} className={classes.point} cx={x(uvi)} cy={y(share)} r={3} />
        ))}
      </svg>
    </>
  );
});
