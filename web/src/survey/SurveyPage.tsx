// The survey: choose an enclosure, go round it spot by spot, see what still waits to be sent.
import { useSearch } from 'wouter';
import { ChoosePage } from './ChoosePage';
import { RoundPage } from './RoundPage';
import { WaitingPage } from './WaitingPage';

export default function SurveyPage({ enclosure }: { enclosure?: string }) {
  const search = useSearch();
  if (enclosure !== undefined) return <RoundPage enclosure={enclosure} />;
  return new URLSearchParams(search).get('show') === 'waiting' ? <WaitingPage /> : <ChoosePage />;
}
