//! Rates of pictures, and the grades that carry them.

use super::near;
use nailplate::figures::Figure;
use nailplate::figures::video::{Chroma, Coding, VideoRate};
use nailplate::tables::timings::timing;
use nailplate::tables::video_grades::{all, named, source, weakest_for};
use nailplate::units::Frequency;
use nailplate::units::unit::megahertz;

use Chroma::{C420, C422, C444};

fn rate(clock: f64, depth: u8, chroma: Chroma, compression: Option<f64>) -> VideoRate {
    let clock = Frequency::new::<megahertz>(clock);
    VideoRate::of(clock, depth, chroma, compression).expect("everyday values")
}

#[test]
fn worked_examples() {
    // Id, width, height, refresh, pixel clock in MHz, depth, chroma, Gbit/s, coding. HD01 printed 4.46 in a public
    // thread; HD03 and HD09 8.91 published; the rest computed as 30 × character rate, or clock × bits × 18/16.
    #[rustfmt::skip]
    let cases = [
        ("HD01", 1920, 1080, 60.0, 148.5, 8, C444, 4.4550, Coding::Tmds),
        ("HD02", 1920, 1080, 60.0, 148.5, 12, C444, 6.6825, Coding::Tmds),
        ("HD03", 3840, 2160, 30.0, 297.0, 8, C444, 8.9100, Coding::Tmds),
        ("HD06", 3840, 2160, 60.0, 594.0, 10, C420, 11.1375, Coding::Tmds),
        ("HD08", 3840, 2160, 24.0, 297.0, 12, C444, 13.3650, Coding::Tmds),
        ("HD09", 3840, 2160, 60.0, 594.0, 8, C420, 8.9100, Coding::Tmds),
        ("HD10", 3840, 2160, 120.0, 1188.0, 8, C444, 32.076, Coding::FixedRate),
        ("HD11", 3840, 2160, 120.0, 1188.0, 10, C444, 40.095, Coding::FixedRate),
        ("HD14", 7680, 4320, 60.0, 2376.0, 8, C444, 64.152, Coding::FixedRate),
        ("HD15", 3840, 2160, 60.0, 594.0, 10, C444, 20.047, Coding::FixedRate),
    ];
    for (id, width, height, refresh, clock, depth, chroma, gigabits, coding) in cases {
        let timing = timing(width, height, refresh, false).expect("a CTA-861 picture");
        near(id, timing.clock.get::<megahertz>(), clock, 1e-9);
        let figure = rate(clock, depth, chroma, None);
        near(id, figure.value(), gigabits, 0.001);
        assert_eq!(figure.coding(), coding, "{id}");
    }
}

#[test]
fn coding_overhead_of_the_fixed_rate_link() {
    // HD17: 4 lanes × 12 Gbit/s × 16/18 carry 42.667 Gbit/s of payload (an article prints 42.6): a picture of just
    // that many bits fills 48 Gbit/s.
    near(
        "HD17",
        rate(42_667.0 / 24.0, 8, C444, None).value(),
        48.0,
        0.001,
    );
}

#[test]
fn sampling_at_2160p60() {
    // 594 MHz: 8 bit 4:4:4 and 4:2:2 to 12 bit are 17.82 Gbit/s TMDS, which premium-high-speed just carries.
    for (depth, chroma) in [(8, C444), (8, C422), (10, C422), (12, C422)] {
        near(
            "2160p60",
            rate(594.0, depth, chroma, None).value(),
            17.82,
            1e-9,
        );
    }
    // Over it, 4:2:2 travels as 24 bit a pixel at any depth.
    near(
        "2160p120",
        rate(1188.0, 12, C422, None).value(),
        32.076,
        1e-4,
    );
    near(
        "2160p120 4:2:0",
        rate(1188.0, 10, C420, None).value(),
        1188e-3 * 15.0 * 18.0 / 16.0,
        1e-9,
    );
}

#[test]
fn compression_divides_and_wants_the_fixed_rate_link() {
    let compressed = rate(2376.0, 10, C444, Some(3.0));
    near(
        "4320p60",
        compressed.value(),
        2376e-3 * 30.0 * 18.0 / 16.0 / 3.0,
        1e-9,
    );
    assert_eq!(compressed.coding(), Coding::FixedRate);
    assert_eq!(
        compressed.working(),
        "2376 MHz × 30 bit × 18/16 ÷ 3 (compressed) = 26.7 Gbit/s"
    );
    for ratio in [0.0, 0.5, -1.0, f64::NAN] {
        assert_eq!(
            VideoRate::of(Frequency::new::<megahertz>(594.0), 8, C444, Some(ratio)),
            None,
            "{ratio}"
        );
    }
}

#[test]
fn workings() {
    assert_eq!(
        rate(594.0, 8, C444, None).working(),
        "3 × 10 bit × 594 MHz × 8/8 = 17.82 Gbit/s"
    );
    assert_eq!(
        rate(594.0, 10, C444, None).working(),
        "3 × 10 bit × 594 MHz × 10/8 = 22.3 Gbit/s, over 18, so 594 MHz × 30 bit × 18/16 = 20 Gbit/s"
    );
}

#[test]
fn depths_that_the_link_does_not_know() {
    for (depth, chroma) in [(0, C444), (9, C444), (14, C420), (255, C444), (16, C422)] {
        assert_eq!(
            VideoRate::of(Frequency::new::<megahertz>(594.0), depth, chroma, None),
            None
        );
    }
}

#[test]
fn certified_grades() {
    // HDMI 1.3 to 2.2: 3 × 10 bit × 74.25 MHz; 340 MHz; 3 × 6; 4 × 12; ultra96 (press release, June 2025).
    let grades = [
        ("standard", 3.0 * 10.0 * 74.25 / 1000.0),
        ("high-speed", 10.2),
        ("premium-high-speed", 18.0),
        ("ultra-high-speed", 48.0),
        ("ultra96", 96.0),
    ];
    assert_eq!(all().count(), grades.len());
    for (grade, (name, gigabits)) in all().zip(grades) {
        assert_eq!(grade.name, name);
        near(name, grade.carries.base(), gigabits, 1e-12);
        assert_eq!(named(name), Some(grade));
        assert_eq!(weakest_for(gigabits), Some(grade));
    }
    assert_eq!(named("category-2"), named("high-speed"));
    assert_eq!(named("category-1"), named("standard"));
    assert_eq!(named("gold"), None);
    assert_eq!(weakest_for(96.1), None);
    assert_eq!(weakest_for(f64::NAN), None);
    assert!(!source().is_empty());
}
