"""Rotation: patterns as moves, wear by place, the plan and the bound it is measured against."""
