//! Every table loads, and names where its numbers come from.

use nailplate::tables::{
    ampacity, bends, boxes, categories, coax, conductors, conduit, cpr, framing, heat,
    loudspeakers, poe, protection, pulling, separation, timings, video_grades, wiring,
};

#[test]
fn every_table_names_its_sources() {
    let mut sources = vec![
        conductors::awg_source(),
        conductors::metric_source(),
        timings::source(),
        video_grades::source(),
        loudspeakers::source(),
        cpr::source(),
        wiring::sources()[0],
        wiring::sources()[1],
    ];
    sources.extend(ampacity::sources());
    sources.extend(conduit::sources());
    sources.extend(bends::sources());
    sources.extend(boxes::sources());
    sources.extend(categories::sources());
    sources.extend(coax::sources());
    sources.extend(framing::sources());
    sources.extend(heat::sources());
    sources.extend(poe::sources());
    sources.extend(protection::sources());
    sources.extend(pulling::sources());
    sources.extend(separation::sources());
    for source in sources {
        let named = source.split_whitespace().count() >= 2;
        let published = [
            "NEC", "BS", "EN ", "IEC", "IEEE", "IRC", "TIA", "ITU", "CTA", "SCTE",
        ];
        let published = published.iter().any(|body| source.contains(body));
        let admitted = ["practice", "definition", "interface standard", "guide"];
        let admitted = admitted.iter().any(|word| source.contains(word));
        assert!(named && (published || admitted), "{source}");
    }
}
