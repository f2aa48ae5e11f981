//! t
fn main() {
    let p = std::env::args().nth(1).unwrap();
    let bytes = std::fs::read(&p).unwrap();
    let t = std::time::Instant::now();
    let r = layout::file::Document::from_bytes(&bytes);
    let dt = t.elapsed();
    let told = match &r { Ok(d) => format!("ok {} variants", d.variants().len()), Err(e) => e.to_string() };
    let hwm = std::fs::read_to_string("/proc/self/status").unwrap().lines().find(|l| l.starts_with("VmHWM")).unwrap().to_owned();
    println!("{:>9} bytes {:>8.3} s {} | {:.150} | {}", bytes.len(), dt.as_secs_f64(), hwm, told, p);
}
