// One enclosure: the document comes from the server, is changed here, and everything shown follows from it.
import { useState } from 'react';
import { useThing } from '../api/record';
import { Failure, Loading } from '../parts/Waiting';
import { EnclosureDesk } from './EnclosureDesk';

export default function EnclosurePage({ id }: { id: string }) {
  const { data, error, isPending, refetch } = useThing('enclosures', id);
  // A new key puts everything back as the document has it.
  const [round, setRound] = useState(0);
  if (isPending) return <Loading what="the enclosure" lines={8} />;
  if (error) return <Failure error={error} retry={() => void refetch()} />;
  return <EnclosureDesk key={round} original={data.document} onPutBack={() => setRound(round + 1)} />;
}
