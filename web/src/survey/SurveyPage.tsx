export default function SurveyPage({ enclosure }: { enclosure?: string }) {
  return <h1>Survey {enclosure}</h1>;
}
