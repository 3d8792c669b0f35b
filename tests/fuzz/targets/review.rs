#![no_main]
use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use nailplate_fuzz::{drive, mutate};

fuzz_target!(|bytes: &[u8]| drive::review::drive(bytes));
fuzz_mutator!(|data: &mut [u8], size: usize, most: usize, seed: u32| {
    mutate::change(data, size, most, seed)
});
