export default function TodayPage() {
  return <h1>Today</h1>;
}
