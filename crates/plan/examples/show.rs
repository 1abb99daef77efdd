//! scratch
#![allow(clippy::all, clippy::disallowed_methods, missing_docs)]
fn main() {
    let text = std::fs::read_to_string(std::env::args().nth(1).unwrap()).unwrap();
    let r = plan::given::document::read(&text);
    for e in &r.errors {
        println!("{e:?}");
    }
    let t = std::time::Instant::now();
    let shelf = plan::given::shelf_read::standard();
    println!("shelf {:?}", t.elapsed());
    let t = std::time::Instant::now();
    let p = plan::plan(&r.build, shelf);
    println!("plan {:?}", t.elapsed());
    for f in &p.findings {
        if f.verdict != plan::finding::Verdict::Holds {
            println!(
                "{} {} {}: {} [{:?}]",
                f.at.line,
                f.verdict.word(),
                f.code,
                f.message,
                f.hint
            );
        }
    }
    println!(
        "holds {}",
        p.findings.iter().filter(|f| f.verdict == plan::finding::Verdict::Holds).count()
    );
    for s in &p.sizes {
        println!(
            "{} {:?} {:?}",
            s.run,
            s.cable.as_ref().map(|c| &c.row.id),
            s.trail.iter().map(|t| &t.because).collect::<Vec<_>>()
        );
        if let Some(h) = &s.heat {
            println!(
                "  {:?} {:?} rating {} ac {} peak {:?}",
                h.conductor_c,
                h.surface_c,
                h.rating_a,
                h.ac_ratio,
                h.peak.as_ref().map(|p| (p.conductor_c, p.to_limit_s))
            );
        }
    }
    for c in &p.cuts {
        println!("{:?}", c);
    }
    for e in &p.ends {
        println!(
            "{} {} {} lug {:?} die {:?} strip {:?} sleeve {:?} grip {:?} bolt {:?} torque {:?} early {:?}",
            e.run,
            e.cable,
            e.port,
            e.lug.as_ref().map(|l| &l.row.id),
            e.crimp.as_ref().map(|c| (&c.row.id, &c.die)),
            e.strip_mm,
            e.sleeve.as_ref().map(|s| (&s.sleeve.row.id, s.length_mm)),
            e.grip.as_ref().map(|g| &g.row.id),
            e.stack.as_ref().map(|s| (
                s.bolt.as_ref().map(|b| &b.row.id),
                s.length_mm,
                s.engagement_mm,
                s.left_mm
            )),
            e.torque.as_ref().map(|t| (
                t.torque_nm,
                t.preload_n,
                &t.governed_by,
                t.limits.iter().map(|l| (l.what.as_str(), l.torque_nm)).collect::<Vec<_>>()
            )),
            e.before_lug.iter().map(|e| &e.what).collect::<Vec<_>>()
        );
    }
    for pl in &p.plates {
        println!(
            "{} {:?} {:?}",
            pl.port,
            pl.seal.as_ref().map(|s| (s.squeeze, s.fill, s.stretch)),
            pl.bolts.as_ref().map(|b| (
                b.count,
                b.stack.length_mm,
                b.stack.left_mm,
                b.torque.as_ref().map(|t| (t.torque_nm, &t.governed_by))
            ))
        );
    }
    if let Some(pr) = &p.protection {
        println!(
            "fuse {:?} carries {:?} fault {:?} near {:?}",
            pr.fuse.as_ref().map(|f| &f.row.id),
            pr.fuse_carries_a,
            pr.fault,
            pr.fault_near
        );
    }
    for i in &p.kit.items {
        println!(
            "{} x{} +{} {:?} {:?}",
            i.part,
            i.count,
            i.spares,
            i.length_mm,
            i.uses.iter().map(|u| format!("{} at {}", u.count, u.place)).collect::<Vec<_>>()
        );
    }
    for s in &p.steps {
        println!("{} | {} | {:?} {:?} {:?}", s.id, s.title, s.parts, s.tools, s.torque_nm);
    }
    for a in &p.assumed {
        println!("assumed {} = {} ({})", a.what, a.value, a.key);
    }
    println!("steps {} trials {} worked {}", p.steps.len(), p.trials.len(), p.worked.len());
}
