// Names that a careless page would run, break on, or be pushed apart by.
export const HOSTILE_NAMES = {
  title: "</script><script>window.injected = 'title'</script> & \"quotes\" <b>bold</b>",
  box: "box <img src=x onerror=\"window.injected='box'\">",
  branch: "<!-- <script> bough",
  plant: "עציץ גדול (ימין לשמאל) שרך",
  perch: "\"><svg onload=window.injected='perch'>' perch",
  point: "🦎👩‍👩‍👧‍👦🌿".repeat(3),
  lamp: "unbrokenandverylong".repeat(5),
};
