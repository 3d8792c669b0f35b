//! Route lengths: plain geometry, no source needed beyond the plan language's own definition.

use super::{feet, near};
use nailplate::figures::Figure;
use nailplate::figures::route::{Level, Point, RouteLength, Slack, straight_line};
use nailplate::units::unit::foot;

fn at(x: f64, y: f64, z: f64) -> Point {
    [feet(x), feet(y), feet(z)]
}

const FROM: (f64, f64, f64) = (25.0, 1.0, 3.0);

fn estimate(level: Level, conduits: &[f64]) -> RouteLength {
    let conduits: Vec<_> = conduits.iter().map(|&length| feet(length)).collect();
    let slack = Slack {
        share: 0.1,
        fixed: feet(6.0),
    };
    let from = at(FROM.0, FROM.1, FROM.2);
    RouteLength::estimated(from, at(16.0, 7.5, 8.5), level, &conduits, slack).expect("a route")
}

#[test]
fn along_the_axes() {
    let direct = estimate(Level::Direct, &[]);
    near(
        "direct",
        direct.length().get::<foot>(),
        (9.0 + 6.5 + 5.5) * 1.1 + 6.0,
        1e-9,
    );
    near(
        "in metre",
        direct.value(),
        direct.length().get::<foot>() * 0.3048,
        1e-9,
    );
    assert_eq!(
        direct.working(),
        "21 ft along the axes + 10 % + 6 ft = 29.1 ft, estimated"
    );
    let ceiling = estimate(Level::Ceiling(feet(9.0), feet(9.0)), &[]);
    near(
        "ceiling",
        ceiling.length().get::<foot>(),
        (15.5 + 6.0 + 0.5) * 1.1 + 6.0,
        1e-9,
    );
    let floor = estimate(Level::Floor(feet(0.0), feet(0.0)), &[]);
    near(
        "floor",
        floor.length().get::<foot>(),
        (15.5 + 3.0 + 8.5) * 1.1 + 6.0,
        1e-9,
    );
    let stepped = estimate(Level::Ceiling(feet(8.0), feet(10.0)), &[]);
    near(
        "stepped ceiling",
        stepped.length().get::<foot>(),
        (15.5 + 5.0 + 2.0 + 1.5) * 1.1 + 6.0,
        1e-9,
    );
}

#[test]
fn never_less_than_the_conduits() {
    let through = estimate(Level::Direct, &[34.0, 6.0]);
    near(
        "conduits",
        through.length().get::<foot>(),
        40.0 * 1.1 + 6.0,
        1e-9,
    );
    assert_eq!(
        through.working(),
        "40 ft of conduit + 10 % + 6 ft = 50 ft, estimated"
    );
}

#[test]
fn stated_lengths_stay_as_written() {
    let stated = RouteLength::stated(feet(98.0)).expect("a length");
    assert_eq!(stated.distance().to_string(), "98 ft");
    assert_eq!(stated.working(), "98 ft as stated");
    let channel = RouteLength::channel(&[stated, estimate(Level::Direct, &[])]).expect("a channel");
    near("channel", channel.length().get::<foot>(), 98.0 + 29.1, 1e-9);
    assert!(channel.is_estimated());
    assert_eq!(
        channel.working(),
        "98 ft + 29.1 ft = 127.1 ft, 1 of them estimated"
    );
    assert_eq!(RouteLength::channel(&[]), None);
    assert_eq!(RouteLength::stated(feet(-1.0)), None);
}

#[test]
fn as_the_crow_flies() {
    // A 2, 3, 6 box has a diagonal of 7.
    let line = straight_line(at(1.0, 1.0, 1.0), at(3.0, 4.0, 7.0));
    near(
        "diagonal",
        line.map_or(0.0, |line| line.get::<foot>()),
        7.0,
        1e-12,
    );
}
