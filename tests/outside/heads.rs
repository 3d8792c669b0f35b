//! A connector in a pipe, against a search: the box is laid into the pipe point by point and every place tried.
//! The formula is checked against plain geometry computed another way; no published table of it is known.

use nailplate::figures::Figure;
use nailplate::figures::head::HeadBore;
use nailplate::units::{Degrees, Distance};
use proptest::prelude::*;

fn mm(number: f64) -> Distance {
    Distance::new(number, "mm").expect("a length")
}

fn needed(w: f64, h: f64, l: f64, radius: f64, angle: f64) -> HeadBore {
    let angle = Degrees::new(angle, "deg").expect("an angle");
    HeadBore::bent(mm(w), mm(h), mm(l), mm(radius), angle).expect("a box")
}

/// How far the centre line of a pipe lies from a point: an arc about the origin, symmetrical to the x axis, and
/// its tangents beyond it.
fn off_centre(point: [f64; 3], radius: f64, half: f64) -> f64 {
    let [x, y, z] = point;
    let y = y.abs();
    let in_plane = if y.atan2(x) <= half {
        x.hypot(y) - radius
    } else {
        x * half.cos() + y * half.sin() - radius
    };
    in_plane.hypot(z)
}

/// Least greatest distance of any point of the box from the centre line, over all that the search tries: how the
/// box is rolled, turned and shifted. Half the bore that it needs.
fn search(w: f64, h: f64, l: f64, radius: f64, half: f64, along: f64, rolls: &[f64]) -> f64 {
    // Corners and points of the long edges: the box is convex, and so is the pipe's section.
    let stations: Vec<f64> = (0..=16)
        .map(|n| (f64::from(n) / 8.0 - 1.0) * l / 2.0)
        .collect();
    let worst = |roll: f64, yaw: f64, shift: f64| {
        let mut most: f64 = 0.0;
        for (a, b) in [(-w, -h), (-w, h), (w, -h), (w, h)] {
            let (u, z) = (
                (a * roll.cos() - b * roll.sin()) / 2.0,
                (a * roll.sin() + b * roll.cos()) / 2.0,
            );
            for s in &stations {
                // In the frame of the pipe at an angle `along` from its middle.
                let (x, y) = (
                    radius + shift + u * yaw.cos() - s * yaw.sin(),
                    u * yaw.sin() + s * yaw.cos(),
                );
                let (x, y) = (
                    x * along.cos() - y * along.sin(),
                    x * along.sin() + y * along.cos(),
                );
                most = most.max(off_centre([x, y, z], radius, half));
            }
        }
        most
    };
    let mut best = f64::INFINITY;
    for roll in rolls {
        for turn in -6..=6 {
            let yaw = f64::from(turn) * 0.01;
            // The least over a shift lies between two bounds: narrowed down.
            let (mut low, mut high) = (-w - h - l, w + h + l);
            for _ in 0..60 {
                let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
                if worst(*roll, yaw, a) < worst(*roll, yaw, b) {
                    high = b;
                } else {
                    low = a;
                }
            }
            best = best.min(worst(*roll, yaw, low));
        }
    }
    best
}

fn rolls(step: usize) -> Vec<f64> {
    (0..=90)
        .step_by(step)
        .map(|degrees: i32| f64::from(degrees).to_radians())
        .collect()
}

/// At the middle of the bend no way to lie needs less than the formula says, and one needs no more.
#[test]
fn the_formula_is_what_a_search_finds() {
    for (w, h, l, radius, angle) in [
        (20.0, 11.0, 48.0, 184.0, 90.0),
        (20.0, 11.0, 48.0, 100.0, 90.0),
        (20.0, 20.0, 60.0, 150.0, 180.0),
        (14.0, 30.0, 40.0, 120.0, 90.0),
        (20.0, 11.0, 90.0, 184.0, 45.0),
        (20.0, 11.0, 48.0, 184.0, 10.0),
        (20.0, 11.0, 48.0, 120.0, 22.5),
        (8.0, 8.0, 30.0, 101.6, 90.0),
    ] {
        let half = angle / 2.0;
        let formula = needed(w, h, l, radius, angle).value();
        let found = 2.0 * search(w, h, l, radius, f64::to_radians(half), 0.0, &rolls(3));
        assert!(
            (found - formula).abs() < 0.005 * formula,
            "{w} x {h} x {l} at {radius}, {angle}: {formula}, found {found}"
        );
    }
}

/// The middle of the bend is the narrowest place: elsewhere the search needs no more.
#[test]
fn the_middle_is_the_narrowest() {
    for (w, h, l, radius, angle) in [
        (20.0, 11.0, 48.0, 184.0, 90.0),
        (20.0, 11.0, 90.0, 184.0, 30.0),
        (20.0, 11.0, 48.0, 184.0, 10.0),
    ] {
        let half = f64::to_radians(angle / 2.0);
        let formula = needed(w, h, l, radius, angle).value();
        for step in 1..=8 {
            let along = half * f64::from(step) / 4.0;
            // Beyond the bend the way lies straight.
            let found = 2.0
                * search(
                    w,
                    h,
                    l,
                    radius,
                    half,
                    along.min(half),
                    &[0.0, std::f64::consts::FRAC_PI_2],
                );
            assert!(
                found <= formula * 1.002,
                "{angle} deg, {along}: {formula}, found {found}"
            );
        }
    }
}

#[test]
fn straight_pipe_and_the_limits_of_bends() {
    let straight = HeadBore::straight(mm(4.0), mm(3.0), mm(50.0)).expect("a box");
    assert!((straight.value() - 5.0).abs() < 1e-9);
    assert_eq!(straight.working(), "√((3 mm)² + (4 mm)²) = 5 mm");
    // No bend, or an endless radius, is straight pipe.
    assert!((needed(4.0, 3.0, 50.0, 100.0, 0.0).value() - 5.0).abs() < 1e-9);
    assert!((needed(4.0, 3.0, 50.0, 1e9, 90.0).value() - 5.0).abs() < 1e-5);
    // Short and long arc agree where one turns into the other.
    let mut before = 0.0;
    for tenth in 1..=1800 {
        let bore = needed(20.0, 11.0, 48.0, 184.0, f64::from(tenth) / 10.0).value();
        assert!(
            bore >= before - 1e-9 && (before == 0.0 || bore - before < 0.02),
            "{tenth}: {before} {bore}"
        );
        before = bore;
    }
    assert_eq!(
        needed(20.0, 11.0, 48.0, 184.0, 90.0).working(),
        "11 mm + (48 mm)² ÷ (4 × (2 × 184 mm + 11 mm)) = 12.52 mm; √((12.52 mm)² + (20 mm)²) = 23.6 mm"
    );
    assert!(HeadBore::straight(mm(0.0), mm(3.0), mm(50.0)).is_none());
}

proptest! {
    /// Nothing is infinite, and a bend asks for no less than straight pipe.
    #[test]
    fn of_any_size(w in any::<f64>(), h in any::<f64>(), l in any::<f64>(), radius in any::<f64>(), angle in any::<f64>()) {
        let angle = Degrees::new(angle, "deg").expect("a unit");
        if let Some(bent) = HeadBore::bent(mm(w), mm(h), mm(l), mm(radius), angle) {
            let straight = HeadBore::straight(mm(w), mm(h), mm(l)).expect("it was one");
            prop_assert!(bent.value().is_finite() && bent.value() >= straight.value() * (1.0 - 1e-9));
            prop_assert!(!bent.working().is_empty());
        }
    }
}
