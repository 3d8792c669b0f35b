use nailplate::{plan, yaml};
struct Disk;
impl plan::Library for Disk {
    fn load(&self, path: &std::path::Path) -> Result<String, String> {
        std::fs::read_to_string(path).map_err(|e| e.to_string())
    }
}
#[allow(clippy::print_stdout)]
fn main() {
    let path = std::env::args().nth(1).unwrap();
    let mut s = yaml::Sources::default();
    let t = std::time::Instant::now();
    let (f, r) = s.add(path.as_ref(), std::fs::read_to_string(&path).unwrap());
    println!("{r:?} {:?}", t.elapsed());
    let t = std::time::Instant::now();
    let (p, fs) = plan::read(&mut s, f, &Disk);
    println!("read {:?} runs {} {}", t.elapsed(), p.runs.len(), std::mem::size_of::<plan::Run>());
    for f in fs {
        let (a, b) = s.spots(f.marks[0].span);
        let q = s.file(a.file).position(a.start);
        println!("{}:{}:{} {} {} [{}] {:?} {:?} {:?}", s.file(a.file).path.display(), q.line, q.column, f.rule, f.says, s.slice(a), f.put_right, b.map(|b| s.slice(b)), f.redlines);
    }
}
