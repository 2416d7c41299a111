#!/bin/sh
# Ranks tools and grips by the hand force that the work needs at its peak, least first.
for file in demo-data/eyelet-toggle.toml demo-data/eyelet-toggle-b.toml; do
    for grip in 60 75 90; do
        force=$(jawforce measure "$file" hand_force --at peak --grip "$grip") || continue
        printf '%8.1f N  grip %s mm  %s\n' "$force" "$grip" "$file"
    done
done | sort -n
