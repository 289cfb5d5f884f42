import type { ImportPreview, Problem } from '../api/schema';
import { sentencesOf } from './previewWords';
import classes from './PreviewInWords.module.css';

const shown = 20;

function Problems({ name, problems }: { name: string; problems: readonly Problem[] }) {
  if (problems.length === 0) return null;
  return (
    <>
      <ul aria-label={name} className={classes.problems}>
        {problems.slice(0, shown).map((problem) => (
          <li key={`${problem.place} ${problem.found}`}>
            <strong>{problem.place === '' ? problem.file : problem.place}</strong>: {problem.found}; it may be{' '}
            {problem.allowed}
          </li>
        ))}
      </ul>
      {problems.length > shown && <p>And {problems.length - shown} more.</p>}
    </>
  );
}

export function PreviewInWords({ preview }: { preview: ImportPreview }) {
  const sentences = sentencesOf(preview);
  return (
    <div className={classes.preview} data-faulty={preview.faults.length > 0} aria-live="polite">
      {sentences.slice(0, 1).map((sentence) => (
        <p key={sentence}>
          <strong>{sentence}</strong>
        </p>
      ))}
      <Problems name="What is wrong" problems={preview.faults} />
      {sentences.slice(1).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {preview.left_out.length > 0 && <p>Left out, since it cannot serve:</p>}
      <Problems name="Left out" problems={preview.left_out} />
    </div>
  );
}
