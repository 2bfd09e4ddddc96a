"""What several tests use: drills, sittings, disks that fail, classes, terminals, screens."""
