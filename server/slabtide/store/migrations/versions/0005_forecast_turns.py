"""whose turn it is to ask for a place's forecast"""

from alembic import op
import sqlalchemy as sa
from slabtide.store import types

revision = '0005'
down_revision = '0004'
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table('forecast_turn',
    sa.Column('company_id', sa.String(length=36), nullable=False),
    sa.Column('place', sa.String(length=24), nullable=False),
    sa.Column('holder', sa.String(length=36), nullable=False),
    sa.Column('until', types.UtcDateTime(), nullable=False),
    sa.PrimaryKeyConstraint('company_id', 'place', name=op.f('pk_forecast_turn'))
    )


def downgrade() -> None:
    op.drop_table('forecast_turn')
